#include "app/window/card_tilt_drawing.h"

#include <QPainter>
#include <QPainterPath>
#include <algorithm>

#include "app/window/look.h"

namespace nearpoint {
namespace {

constexpr double kFar = 0.62;  // how much shorter the far edge is drawn

}  // namespace

CardTiltDrawing::CardTiltDrawing(QWidget* parent) : QWidget(parent) {
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  setAccessibleName(tr("Drawing of how to hold the card"));
}

void CardTiltDrawing::SetTilt(std::optional<CardTilt> tilt) {
  if (tilt_ == tilt) return;
  tilt_ = tilt;
  update();
}

QSize CardTiltDrawing::sizeHint() const { return {look::Art(220), look::Art(120)}; }

void CardTiltDrawing::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const double w = std::min(0.62 * width(), 1.25 * height());
  const double h = w * 0.63;
  const CardTilt tilt = tilt_.value_or(CardTilt::kSquare);
  // Seen from the camera's side, mirrored as the preview: the person's left is left.
  double left = h;
  double right = h;
  double top = w;
  double bottom = w;
  switch (tilt) {
    case CardTilt::kSquare:
      break;
    case CardTilt::kUpperNear:
      bottom *= kFar;
      break;
    case CardTilt::kLowerNear:
      top *= kFar;
      break;
    case CardTilt::kLeftNear:
      right *= kFar;
      break;
    case CardTilt::kRightNear:
      left *= kFar;
      break;
  }
  const bool across = tilt == CardTilt::kLeftNear || tilt == CardTilt::kRightNear;
  const bool along = tilt == CardTilt::kUpperNear || tilt == CardTilt::kLowerNear;
  const double half_w = (across ? 0.82 : 1) * w / 2;
  const double half_h = (along ? 0.82 : 1) * h / 2;
  const QPointF middle(width() / 2.0, height() / 2.0);
  const QPolygonF card{{{middle.x() - half_w * top / w, middle.y() - half_h * left / h},
                        {middle.x() + half_w * top / w, middle.y() - half_h * right / h},
                        {middle.x() + half_w * bottom / w, middle.y() + half_h * right / h},
                        {middle.x() - half_w * bottom / w, middle.y() + half_h * left / h}}};
  painter.setPen(QPen(look::kDeep, look::Px(2), tilt_ ? Qt::SolidLine : Qt::DashLine));
  painter.setBrush(look::kSoft);
  painter.drawPolygon(card);
  // The marks of the pattern, by the perspective of the outline.
  QTransform to_card;
  QTransform::quadToQuad(QPolygonF({{0, 0}, {5, 0}, {5, 3}, {0, 3}}), card, to_card);
  painter.setPen(Qt::NoPen);
  painter.setBrush(look::kDeep);
  for (int row = 0; row < 3; ++row) {
    for (int col = 0; col < 5; ++col) {
      painter.drawPolygon(to_card.map(QPolygonF({{col + 0.22, row + 0.22},
                                                 {col + 0.78, row + 0.22},
                                                 {col + 0.78, row + 0.78},
                                                 {col + 0.22, row + 0.78}})));
    }
  }
  if (!across && !along) return;
  // A thick line along the edge that comes nearer.
  painter.setPen(QPen(look::kWarm, look::Px(5), Qt::SolidLine, Qt::RoundCap));
  const int first = tilt == CardTilt::kUpperNear   ? 0
                    : tilt == CardTilt::kRightNear ? 1
                    : tilt == CardTilt::kLowerNear ? 2
                                                   : 3;
  painter.drawLine(card.at(first), card.at((first + 1) % 4));
}

}  // namespace nearpoint
