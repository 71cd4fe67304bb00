// The last moments of both eyes as the counter reads them: medians over a short window, against
// what looking at the screen looked like.
#pragma once

#include <deque>
#include <optional>

#include "vision/core/distance_sample.h"
#include "vision/core/units.h"

namespace nearpoint {

// One frame with both eyes, in degrees.
struct EyeReading {
  double time_s = 0;
  double vergence = 0;
  // Horizontal rotation, positive toward the nose, less what the head's turn and place ask of it.
  double left = 0, right = 0;
  double split_sd = 0;  // of left less right, as the tracker states it
  double far = 0;       // what looking at the screen asks at this distance
  double asked = 0;     // what the pair asks
};

// From the corneal plane to the plane of the pair: to the place of the screen in the camera frame,
// where it is given, else the sample's own distance to its target.
[[nodiscard]] std::optional<Length> ScreenDistance(
    const DistanceSample& sample, const std::optional<Eigen::Vector3d>& screen_in_camera_mm);

// nullopt without both eyes or a distance.
[[nodiscard]] std::optional<EyeReading> ReadEyes(
    const DistanceSample& sample, Length pupils, Length separation,
    const std::optional<Eigen::Vector3d>& screen_in_camera_mm);

struct EyeMedians {
  double vergence = 0, left = 0, right = 0, split_sd = 0, far = 0, asked = 0;
  double offset_spread = 0;  // robust deviation of vergence - gain * far
  double offset = 0;         // median of the same
  double drift = 0;          // of that median from the first half of the window to the second
};

class EyeWindow {
 public:
  explicit EyeWindow(double length_s, int least = 4) : length_s_(length_s), least_(least) {}
  void Add(const EyeReading& reading);
  void Clear() { readings_.clear(); }
  // Forgets what is older than the window at this moment.
  void Trim(double now_s);
  [[nodiscard]] bool empty() const { return readings_.empty(); }
  // Covers at least this share of its length, with enough readings.
  [[nodiscard]] bool Full(double share = 0.8) const;
  // nullopt with too few readings.
  [[nodiscard]] std::optional<EyeMedians> Medians(double gain) const;

 private:
  double length_s_;
  int least_;
  std::deque<EyeReading> readings_;
};

}  // namespace nearpoint
