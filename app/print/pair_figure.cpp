#include "app/print/pair_figure.h"

#include <QPen>

namespace nearpoint {

void DrawPairHalf(QPainter& painter, const QPointF& centre, double width, PairHalf half) {
  painter.save();
  painter.translate(centre);
  painter.scale(width, width);
  painter.setRenderHint(QPainter::Antialiasing);
  // What both halves have, for the eyes to lock on: a frame with a ring and four short ticks.
  painter.setBrush(Qt::NoBrush);
  painter.setPen(QPen(kPairInk, 0.07, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  painter.drawRoundedRect(QRectF(-0.465, -0.43, 0.93, 0.86), 0.16, 0.16);
  painter.setPen(QPen(kPairInk, 0.05, Qt::SolidLine, Qt::RoundCap));
  painter.drawEllipse(QPointF(0, 0), 0.16, 0.16);
  for (const double sign : {-1.0, 1.0}) {
    painter.drawLine(QPointF(sign * 0.24, 0), QPointF(sign * 0.33, 0));
    painter.drawLine(QPointF(0, sign * 0.24), QPointF(0, sign * 0.31));
  }
  painter.setPen(Qt::NoPen);
  if (half != PairHalf::kRight) {
    painter.setBrush(kDiscColor);
    painter.drawEllipse(QPointF(0, -0.59), 0.105, 0.105);
  }
  if (half != PairHalf::kLeft) {
    painter.setBrush(kBarColor);
    painter.drawRoundedRect(QRectF(-0.2, 0.52, 0.4, 0.14), 0.03, 0.03);
  }
  painter.restore();
}

}  // namespace nearpoint
