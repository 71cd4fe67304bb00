#include "app/window/trial_dots.h"

#include <QPainter>
#include <algorithm>

#include "app/window/look.h"

namespace nearpoint {
namespace {
constexpr int kRadius = 9;
constexpr int kStep = 30;
}  // namespace

TrialDots::TrialDots(QWidget* parent) : QWidget(parent) {
  setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
}

void TrialDots::SetTrials(const std::vector<Trial>& trials, int least) {
  counted_.clear();
  for (const Trial& trial : trials) counted_.push_back(!trial.set_aside);
  const int counted = static_cast<int>(std::ranges::count(counted_, true));
  wanted_ = std::max(0, least - counted);
  const QString text = tr("%n trial(s) count so far", nullptr, counted);
  setAccessibleName(text);
  setToolTip(text);
  updateGeometry();
  update();
}

QSize TrialDots::sizeHint() const {
  const int dots = static_cast<int>(counted_.size()) + std::max(1, wanted_);
  return {look::Px(kStep) * dots, look::Px(2 * kRadius + 8)};
}

void TrialDots::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const double radius = look::Px(kRadius);
  double x = look::Px(kStep) / 2.0;
  const double y = height() / 2.0;
  for (const bool counted : counted_) {
    if (counted) {
      painter.setPen(Qt::NoPen);
      painter.setBrush(look::kDeep);
      painter.drawEllipse(QPointF(x, y), radius, radius);
      painter.setPen(QPen(Qt::white, look::Px(2), Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
      painter.drawPolyline(
          QPolygonF({QPointF(x - radius * 0.45, y), QPointF(x - radius * 0.1, y + radius * 0.4),
                     QPointF(x + radius * 0.5, y - radius * 0.4)}));
    } else {
      // Set aside: a bar, not another colour.
      painter.setPen(QPen(look::kQuietInk, look::Px(3), Qt::SolidLine, Qt::RoundCap));
      painter.drawLine(QPointF(x - radius * 0.6, y), QPointF(x + radius * 0.6, y));
    }
    x += look::Px(kStep);
  }
  painter.setPen(QPen(look::kQuietInk, look::Px(2)));
  painter.setBrush(Qt::NoBrush);
  for (int i = 0; i < wanted_; ++i) {
    painter.drawEllipse(QPointF(x, y), radius - 1, radius - 1);
    x += look::Px(kStep);
  }
}

}  // namespace nearpoint
