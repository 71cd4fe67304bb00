#include "app/window/near_point_drawing.h"

#include <QPainter>
#include <QPainterPath>
#include <cmath>

#include "app/window/look.h"
#include "app/window/percept.h"

namespace nearpoint {
namespace {

// An eye seen from above: a ball whose iris looks at `aim`.
void DrawEyeball(QPainter& painter, QPointF centre, double radius, QPointF aim) {
  const double angle = std::atan2(aim.y() - centre.y(), aim.x() - centre.x());
  painter.setPen(QPen(look::kInk, radius * 0.1));
  painter.setBrush(look::kCard);
  painter.drawEllipse(centre, radius, radius);
  painter.save();
  painter.translate(centre);
  painter.rotate(angle * 180 / M_PI);
  painter.setPen(Qt::NoPen);
  painter.setBrush(look::kDeep);
  painter.drawEllipse(QPointF(radius * 0.86, 0), radius * 0.24, radius * 0.5);
  painter.restore();
}

// Two lines: words are long in some languages.
int CaptionHeight() { return 2 * QFontMetrics(look::Body()).height() + 6; }

}  // namespace

NearPointDrawing::NearPointDrawing(QWidget* parent) : QWidget(parent) {
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  setAccessibleName(tr("Drawing of two eyes looking at a near letter"));
  setAccessibleDescription(
      tr("Far away both eyes meet on the letter and it is one. Nearer than the near point they "
         "no longer meet and it is two."));
}

QSize NearPointDrawing::sizeHint() const {
  return {look::Px(500), look::Art(150) + CaptionHeight()};
}

void NearPointDrawing::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setFont(look::Body());
  const double half = width() / 2.0;
  const double words = CaptionHeight();
  for (const bool near : {false, true}) {
    const QRectF place(near ? half + 8.0 : 0, 0, half - 8.0, height());
    painter.setPen(QPen(look::kLine, 1));
    painter.setBrush(look::kCard);
    painter.drawRoundedRect(place.adjusted(1, 1, -1, -1), look::Px(14), look::Px(14));
    const double radius = look::Art(20);
    const double middle = place.top() + (place.height() - words) / 2;
    const double gap = look::Art(38);
    const QPointF upper(place.left() + look::Art(46), middle - gap);
    const QPointF lower(place.left() + look::Art(46), middle + gap);
    const QPointF letter(place.left() + (near ? look::Art(120) : place.width() * 0.62), middle);
    // The eye that gives up looks past the letter.
    const QPointF drifted(letter.x() + look::Art(150), middle + look::Art(20));
    painter.setPen(QPen(look::kDeep, 1.6));
    painter.drawLine(upper, letter);
    if (near) {
      painter.setPen(QPen(look::kWarm, 1.6, Qt::DashLine));
      painter.drawLine(lower, drifted);
    } else {
      painter.drawLine(lower, letter);
    }
    DrawEyeball(painter, upper, radius, letter);
    DrawEyeball(painter, lower, radius, near ? drifted : letter);
    const QRectF seen(place.right() - look::Art(112), middle - look::Art(45), look::Art(100),
                      look::Art(90));
    if (near) {
      percept::Draw(painter, seen, percept::Kind::kTwo);
    } else {
      percept::Draw(painter, seen, percept::Kind::kOne);
    }
    painter.setPen(look::kInk);
    painter.setBrush(look::kInk);
    painter.drawEllipse(letter, look::Art(4), look::Art(4));
    painter.setFont(look::Body());
    painter.drawText(
        QRectF(place.left() + 8, place.bottom() - words - 4, place.width() - 16, words),
        Qt::AlignCenter | Qt::TextWordWrap,
        near ? tr("too near: you see two") : tr("farther away: you see one"));
  }
}

}  // namespace nearpoint
