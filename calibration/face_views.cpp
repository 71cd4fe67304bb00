#include "calibration/face_views.h"

#include <algorithm>

namespace nearpoint {

namespace {
constexpr std::size_t kMostViews = 80;
}  // namespace

void FaceViews::Add(const FaceCardView& view, double turn_deg) {
  least_deg_ = views_.empty() ? turn_deg : std::min(least_deg_, turn_deg);
  most_deg_ = views_.empty() ? turn_deg : std::max(most_deg_, turn_deg);
  views_.push_back(view);
}

double FaceViews::TurnedDeg() const { return most_deg_ - least_deg_; }

std::vector<FaceCardView> FaceViews::Chosen() const {
  if (views_.size() <= kMostViews) return views_;
  std::vector<FaceCardView> some;
  for (std::size_t i = 0; i < kMostViews; ++i) {
    some.push_back(views_[i * views_.size() / kMostViews]);
  }
  return some;
}

}  // namespace nearpoint
