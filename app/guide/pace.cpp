#include "app/guide/pace.h"

namespace nearpoint {

void PaceMeter::Clear() {
  points_.clear();
  candidate_ = said_ = PaceVerdict::kUnknown;
}

Pace PaceMeter::Add(const DistanceSample& sample, bool toward) {
  if (sample.distance) points_.push_back({sample.time, sample.distance->value.mm()});
  while (!points_.empty() && sample.time - points_.front().time > rules_.window) {
    points_.pop_front();
  }
  Pace pace;
  if (const auto slope = Slope()) pace.speed = toward ? -*slope : *slope;
  const PaceVerdict now = pace.speed ? Judge(*pace.speed) : PaceVerdict::kUnknown;
  if (now != candidate_) {
    candidate_ = now;
    candidate_since_ = sample.time;
  }
  // Praise comes at once, blame after a moment.
  if (now == PaceVerdict::kGood || sample.time - candidate_since_ >= rules_.patience) said_ = now;
  pace.verdict = said_;
  return pace;
}

std::optional<Speed> PaceMeter::Slope() const {
  // Half a window of points, or the slope is noise.
  if (points_.size() < 4 || points_.back().time - points_.front().time < rules_.window / 2) {
    return std::nullopt;
  }
  double t_mean = 0;
  double d_mean = 0;
  for (const Point& p : points_) {
    t_mean += ToSeconds(p.time);
    d_mean += p.mm;
  }
  const auto n = static_cast<double>(points_.size());
  t_mean /= n;
  d_mean /= n;
  double covariance = 0;
  double variance = 0;
  for (const Point& p : points_) {
    const double t = ToSeconds(p.time) - t_mean;
    covariance += t * (p.mm - d_mean);
    variance += t * t;
  }
  if (variance <= 0) return std::nullopt;
  return Speed::MillimetersPerSecond(covariance / variance);
}

PaceVerdict PaceMeter::Judge(Speed speed) const {
  if (speed > rules_.too_fast) return PaceVerdict::kTooFast;
  if (speed < -rules_.too_slow) return PaceVerdict::kWrongWay;
  if (speed < rules_.too_slow) return PaceVerdict::kTooSlow;
  return PaceVerdict::kGood;
}

}  // namespace nearpoint
