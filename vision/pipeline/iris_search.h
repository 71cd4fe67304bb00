// The limbus of one eye when something else than the eye has said how large it must be: the two
// set-ups with a card know how far the face is.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>
#include <optional>

#include "vision/eyes/limbus_fit.h"

namespace nearpoint {

// Channels of a picture as FitLimbus takes them.
struct EyeChannels {
  cv::Mat grey, bgr;
};
[[nodiscard]] EyeChannels EyeChannelsOf(const cv::Mat& bgr);

// Between two lid corners, radius_px to within `spread` (a fraction). The place is tried along the
// whole opening. nullopt: closed, hidden, or no edge that can be believed.
[[nodiscard]] std::optional<LimbusFit> FindIrisBetween(const EyeChannels& picture,
                                                       const Eigen::Vector2d& image_left,
                                                       const Eigen::Vector2d& image_right,
                                                       double radius_px, double spread);

// Near a guess, twice: from it, and from what was found.
[[nodiscard]] std::optional<LimbusFit> FindIrisAt(const EyeChannels& picture, LimbusEllipse guess,
                                                  double eye_line_rad, double reach, double spread);

// Covariance with what a pixel grid, coding and compression leave even at a perfect edge.
[[nodiscard]] Eigen::Matrix3d CovarianceOf(const LimbusFit& fit);

}  // namespace nearpoint
