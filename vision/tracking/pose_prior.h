// What is known of a head before its picture is looked at.
#pragma once

#include <Eigen/Core>
#include <optional>

#include "vision/core/units.h"
#include "vision/distance/head_fit.h"
#include "vision/tracking/scene.h"

namespace nearpoint {

// Nothing but where eyes look. Eyes that may look before the target are not pulled to it.
[[nodiscard]] PosePrior AnyPose(const Scene& scene);

// A head that is followed. since: the last picture of it; one_eye: for how long one of its eyes had
// been followed alone. A head turns by no more than 60 degrees a second while it reads a target
// (common practice, no source); without evidence it goes back to facing the camera over seconds.
[[nodiscard]] PosePrior PriorAround(const Scene& scene, const HeadPose& expected, Time since,
                                    Time one_eye);

struct SeenBefore {
  HeadPose pose;
  Time since{};
};
// A head whose eyes' openings (or irises) are at these places, depth_mm from the lens.
[[nodiscard]] PosePrior PriorFromEyes(const Scene& scene, const Eigen::Vector2d& image_left,
                                      const Eigen::Vector2d& image_right, double depth_mm,
                                      const std::optional<SeenBefore>& before);

// Convergence (radians) of eyes that look at a point so far before the corneal plane.
[[nodiscard]] double VergenceAt(const Scene& scene, double distance_mm);

}  // namespace nearpoint
