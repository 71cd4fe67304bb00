#include "app/window/steps_drawing.h"

#include <QLocale>
#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <array>

#include "app/window/look.h"
#include "app/window/percept.h"

namespace nearpoint {
namespace {

constexpr int kGap = 14;

// A head in profile, nose to the right, in a box of 1 x 1 about `at`.
void DrawHead(QPainter& painter, QPointF at, double size) {
  painter.save();
  painter.translate(at);
  painter.scale(size, size);
  QPainterPath head;
  head.moveTo(-0.20, 0.50);
  head.cubicTo(-0.52, 0.30, -0.52, -0.48, -0.05, -0.50);
  head.cubicTo(0.24, -0.50, 0.30, -0.26, 0.30, -0.12);
  head.lineTo(0.40, 0.08);
  head.lineTo(0.30, 0.12);
  head.cubicTo(0.30, 0.22, 0.30, 0.34, 0.10, 0.36);
  head.lineTo(0.06, 0.50);
  head.closeSubpath();
  painter.setPen(QPen(look::kInk, 0.03, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.setBrush(look::kSoft);
  painter.drawPath(head);
  painter.setBrush(look::kInk);
  painter.drawEllipse(QPointF(0.20, -0.10), 0.035, 0.05);
  painter.restore();
}

void DrawScreen(QPainter& painter, QPointF foot, double size) {
  painter.setPen(QPen(look::kInk, size * 0.05, Qt::SolidLine, Qt::RoundCap));
  painter.drawLine(foot, foot + QPointF(size * 0.12, -size * 1.1));
  painter.drawLine(foot - QPointF(size * 0.3, 0), foot + QPointF(size * 0.25, 0));
  painter.setBrush(look::kWarm);
  painter.setPen(Qt::NoPen);
  painter.drawEllipse(foot + QPointF(size * 0.06, -size * 1.02), size * 0.06, size * 0.06);
}

// Seen from its edge, held up by a hand below the picture; the letter is on the side of the eyes.
void DrawCard(QPainter& painter, QPointF at, double size) {
  painter.setPen(QPen(look::kInk, size * 0.05, Qt::SolidLine, Qt::RoundCap));
  painter.drawLine(at - QPointF(0, size * 0.16), at + QPointF(0, size * 0.34));
  painter.setBrush(look::kWarm);
  painter.setPen(Qt::NoPen);
  painter.drawEllipse(at - QPointF(size * 0.07, size * 0.08), size * 0.06, size * 0.06);
}

void DrawArrow(QPainter& painter, QPointF from, QPointF to, double width) {
  painter.setPen(QPen(look::kDeep, width, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.drawLine(from, to);
  const double tip = to.x() > from.x() ? width * 2.4 : -width * 2.4;
  painter.drawPolyline(
      QPolygonF({to + QPointF(-tip, -width * 2.4), to, to + QPointF(-tip, width * 2.4)}));
}

}  // namespace

StepsDrawing::StepsDrawing(Moves moves, QWidget* parent) : QWidget(parent), moves_(moves) {
  QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Preferred);
  policy.setHeightForWidth(true);
  setSizePolicy(policy);
  setAccessibleName(tr("The measurement in three pictures"));
  setAccessibleDescription(
      moves == Moves::kCard
          ? tr("First bring the card slowly to your nose and look at its letter. Then press any "
               "key as soon as you see two. Then move the card slowly back and press any key as "
               "soon as it is one again.")
          : tr("First lean slowly toward the letter under the camera. Then press any key as soon "
               "as you see two. Then go slowly back and press any key as soon as it is one "
               "again."));
}

QSize StepsDrawing::sizeHint() const { return {look::Px(700), heightForWidth(look::Px(700))}; }

bool StepsDrawing::Stacked(int width) { return width < 3 * look::Px(220); }

int StepsDrawing::heightForWidth(int width) const {
  return Stacked(width) ? 3 * look::Art(150) + 2 * look::Art(kGap) : look::Art(190) + TextRoom();
}

int StepsDrawing::TextRoom() { return 3 * QFontMetrics(look::Body()).height() + look::Art(16); }

void StepsDrawing::DrawScene(QPainter& painter, const QRectF& art, int step) const {
  const double size = std::min(art.height() * 0.72, art.width() * 0.34);
  const double arrow = art.center().y() + size * 0.78;
  const double level = art.center().y() + size * 0.08;
  const bool card = moves_ == Moves::kCard;
  DrawScreen(painter, {art.right() - size * 0.55, art.center().y() + size * 0.55}, size);
  const double near = card || step == 0 ? 0.26 : step == 1 ? 0.50 : 0.30;
  const double head = art.left() + art.width() * near;
  DrawHead(painter, {head, level}, size);
  const double reach[] = {1.05, 0.55, 0.95};  // of the card, in heads
  if (card) DrawCard(painter, {head + size * reach[step], level}, size);
  const double middle = card ? head + size * 0.8 : art.left() + art.width() * 0.40;
  if (step != 1) {
    const double half = size * 0.34 * (step == 0 ? 1 : -1) * (card ? -1 : 1);
    DrawArrow(painter, {middle - half, arrow}, {middle + half, arrow}, look::Art(3));
  }
  const double side = std::min(size * 0.62, art.height() * 0.4);
  percept::Draw(painter, QRectF(art.left(), art.top(), side, side),
                step == 1 ? percept::Kind::kTwo : percept::Kind::kOne);
}

void StepsDrawing::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const bool card = moves_ == Moves::kCard;
  const std::array texts{card ? tr("Bring the card slowly nearer. Look at its letter.")
                              : tr("Lean in slowly. Look at the letter."),
                         tr("You see two? Press any key."),
                         card ? tr("Card slowly back. One again? Press any key.")
                              : tr("Slowly back. One again? Press any key.")};
  const double gap = look::Art(kGap);
  const bool stacked = Stacked(width());
  const double wide = stacked ? width() : (width() - 2 * gap) / 3;
  const double high =
      stacked ? (height() - 2 * gap) / 3 : std::min<double>(height(), look::Art(230) + TextRoom());
  for (int step = 0; step < 3; ++step) {
    const QRectF place = stacked ? QRectF(0, step * (high + gap), wide, high)
                                 : QRectF(step * (wide + gap), (height() - high) / 2, wide, high);
    painter.setPen(QPen(look::kLine, 1));
    painter.setBrush(look::kCard);
    painter.drawRoundedRect(place.adjusted(1, 1, -1, -1), look::Px(14), look::Px(14));
    const double margin = look::Art(12);
    const QRectF inner = place.adjusted(margin, margin, -margin, -margin);
    const double art_wide = std::min(inner.width() / 2, 1.6 * inner.height());
    const QRectF art =
        stacked ? QRectF(inner.left(), inner.top(), art_wide, inner.height())
                : QRectF(inner.left(), inner.top(), inner.width(), inner.height() - TextRoom());
    const QRectF words =
        stacked ? inner.adjusted(art_wide + margin, 0, 0, 0)
                : QRectF(inner.left(), art.bottom() + 8, inner.width(), TextRoom() - 8);
    DrawScene(painter, art, step);
    painter.setPen(look::kInk);
    QFont font = look::Body();
    font.setWeight(QFont::Medium);
    painter.setFont(font);
    painter.drawText(words, Qt::AlignCenter | Qt::TextWordWrap,
                     QLocale().toString(step + 1) + ".  " + texts[static_cast<std::size_t>(step)]);
  }
}

}  // namespace nearpoint
