// How this person's measured angles answer to the demand of the target: the angle between visual
// and optical axis, and the eye's true radius, make an offset and a gain that are the person's own.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <span>
#include <string>

#include "app/measure/vergence_trace.h"
#include "vision/core/units.h"

namespace nearpoint {

// measured = offset + gain * demand. For one eye the demand is half the target's.
struct PersonalResponse {
  Angle offset;
  double gain = 1;
  Eigen::Matrix2d covariance = Eigen::Matrix2d::Zero();  // of (offset in degrees, gain)
  [[nodiscard]] Angle Expected(Angle demand) const { return offset + gain * demand; }
  [[nodiscard]] double gain_sd() const;
  [[nodiscard]] Angle offset_sd() const;
};

enum class Measured { kVergence, kLeftEye, kRightEye };

// Generalised least squares under independent noise and slow wander, so that the covariance allows
// for frames that err together. The head's turn and the eyes' place beside the lens are fitted
// along for a single eye, and a drift of unknown size from step_s (seconds of the trace) on if it
// is given. At least three frames, in time order.
[[nodiscard]] PersonalResponse FitResponse(std::span<const VergenceFrame> frames, Measured measured,
                                           std::optional<double> step_s = std::nullopt);

struct PersonalVergence {
  bool learned = false;
  std::string why_not;  // one sentence, when not learned
  PersonalResponse vergence, left_eye, right_eye;
  int frames = 0;
  Angle least_demand, greatest_demand;
};

struct LearnOptions {
  Length far = Length::Millimeters(150);  // beyond it the tracker's corners are sound
  int min_frames = 30;
  Angle min_demand_range = Angle::Degrees(3);
};

// FitResponse over the frames before until_s (seconds of the trace) and farther than options.far.
[[nodiscard]] PersonalVergence LearnVergence(const VergenceTrace& trace, double until_s,
                                             const LearnOptions& options = {});

}  // namespace nearpoint
