#include "app/window/exercise/repetition_row.h"

#include <QPainter>
#include <QPainterPath>
#include <algorithm>

#include "app/window/look.h"

namespace nearpoint {
namespace {
constexpr int kMostCircles = 20;  // beyond that the number alone is shown
}

RepetitionRow::RepetitionRow(QWidget* parent) : QWidget(parent) {
  setObjectName("repetitions");
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  Set(0, 1, 0);
}

void RepetitionRow::Set(int counted, int asked, double hold) {
  counted_ = counted;
  asked_ = std::max(1, asked);
  hold_ = std::clamp(hold, 0.0, 1.0);
  setAccessibleName(tr("%1 of %2 repetitions").arg(counted).arg(asked));
  update();
}

QSize RepetitionRow::sizeHint() const { return {look::Px(420), look::Px(54)}; }
QSize RepetitionRow::minimumSizeHint() const { return {look::Px(200), look::Px(54)}; }

void RepetitionRow::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const QString number = tr("%1 of %2").arg(counted_).arg(asked_);
  painter.setFont(look::Large());
  painter.setPen(look::kInk);
  const int text_width = painter.fontMetrics().horizontalAdvance(number) + look::Px(16);
  const double top = height() * 0.58;
  painter.drawText(QRectF(0, 0, text_width, top), Qt::AlignVCenter | Qt::AlignLeft, number);
  if (asked_ <= kMostCircles) {
    const double room = width() - text_width;
    const double step = std::min<double>(look::Px(30), room / asked_);
    const double radius = step * 0.36;
    for (int i = 0; i < asked_; ++i) {
      const QPointF centre(text_width + step * (i + 0.5), top / 2);
      const bool done = i < counted_;
      painter.setPen(QPen(look::kDeep, 2));
      painter.setBrush(done ? QBrush(look::kDeep) : QBrush(Qt::NoBrush));
      painter.drawEllipse(centre, radius, radius);
      if (!done) continue;
      painter.setPen(QPen(Qt::white, radius * 0.28, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
      QPainterPath tick(centre + QPointF(-radius * 0.45, 0));
      tick.lineTo(centre + QPointF(-radius * 0.1, radius * 0.4));
      tick.lineTo(centre + QPointF(radius * 0.5, -radius * 0.4));
      painter.setBrush(Qt::NoBrush);
      painter.drawPath(tick);
    }
  }
  // The hold, as a bar that fills.
  const QRectF bar(1, height() * 0.68, width() - 2.0, height() * 0.26);
  const double round = bar.height() / 2;
  painter.setPen(QPen(look::kLine, 1.5));
  painter.setBrush(look::kCard);
  painter.drawRoundedRect(bar, round, round);
  if (hold_ > 0) {
    QPainterPath clip;
    clip.addRoundedRect(bar, round, round);
    painter.setClipPath(clip);
    painter.setPen(Qt::NoPen);
    painter.setBrush(look::kDeep);
    painter.drawRect(QRectF(bar.left(), bar.top(), bar.width() * hold_, bar.height()));
  }
}

}  // namespace nearpoint
