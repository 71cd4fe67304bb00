#include "app/window/exercise/screen_card.h"

#include <QKeyEvent>
#include <QPainter>
#include <algorithm>

#include "app/window/look.h"

namespace nearpoint {
namespace {

// ISO/IEC 7810, ID-1.
constexpr double kWidthMm = 85.60;
constexpr double kHeightMm = 53.98;
constexpr double kCornerMm = 3.18;
constexpr double kFallbackMm = 0.25;
constexpr double kLeastDots = 120;
constexpr double kMostDots = 1600;

}  // namespace

ScreenCard::ScreenCard(double mm_per_dot, QWidget* parent)
    : QWidget(parent), mm_per_dot_(mm_per_dot > 0 ? mm_per_dot : kFallbackMm) {
  setObjectName("card");
  setFocusPolicy(Qt::StrongFocus);
  setAccessibleName(tr("Outline of a bank card"));
  setAccessibleDescription(tr("The arrow keys make it larger or smaller."));
}

QSizeF ScreenCard::CardPoints() const {
  const double points_per_mm = 1 / (mm_per_dot_ * devicePixelRatioF());
  return {kWidthMm * points_per_mm, kHeightMm * points_per_mm};
}

QSize ScreenCard::sizeHint() const {
  const QSizeF card = CardPoints();
  return {qRound(card.width()) + 24, qRound(card.height()) + 24};
}

void ScreenCard::Grow(double dots) {
  const double width = std::clamp(kWidthMm / mm_per_dot_ + dots, kLeastDots, kMostDots);
  mm_per_dot_ = kWidthMm / width;
  updateGeometry();
  update();
}

void ScreenCard::keyPressEvent(QKeyEvent* event) {
  const double step = event->modifiers().testFlag(Qt::ShiftModifier) ? 10 : 1;
  switch (event->key()) {
    case Qt::Key_Right:
    case Qt::Key_Up:
    case Qt::Key_Plus:
      Grow(step);
      return;
    case Qt::Key_Left:
    case Qt::Key_Down:
    case Qt::Key_Minus:
      Grow(-step);
      return;
    case Qt::Key_Return:
    case Qt::Key_Enter:
      emit Fits();
      return;
    default:
      QWidget::keyPressEvent(event);
  }
}

void ScreenCard::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const QSizeF card = CardPoints();
  const QRectF box(QPointF((width() - card.width()) / 2, (height() - card.height()) / 2), card);
  const double corner = kCornerMm / kWidthMm * card.width();
  painter.setBrush(look::kSoft);
  painter.setPen(QPen(look::kDeep, 2));
  // The pen's outer edge is the card's edge.
  painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), corner, corner);
  if (hasFocus()) {
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(look::kWarm, 2, Qt::DashLine));
    painter.drawRoundedRect(box.adjusted(-6, -6, 6, 6), corner + 6, corner + 6);
  }
}

}  // namespace nearpoint
