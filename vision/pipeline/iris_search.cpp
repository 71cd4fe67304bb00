#include "vision/pipeline/iris_search.h"

#include <cmath>
#include <opencv2/imgproc.hpp>

namespace nearpoint {
namespace {

constexpr int kLeastEdgePoints = 20;        // of 64
constexpr double kIrisAboveCorners = 0.25;  // radii; the corners lie below the middle of the iris

bool Believable(const LimbusFit& fit) {
  return fit.left_points + fit.right_points >= kLeastEdgePoints &&
         fit.residual_px < 0.05 * fit.ellipse.semi_major_px + 0.4;
}

double Strength(const LimbusFit& fit) {
  return fit.contrast * (fit.left_points + fit.right_points);
}

}  // namespace

EyeChannels EyeChannelsOf(const cv::Mat& bgr) {
  EyeChannels out;
  cv::cvtColor(bgr, out.grey, cv::COLOR_BGR2GRAY);
  out.bgr = bgr;
  return out;
}

std::optional<LimbusFit> FindIrisAt(const EyeChannels& picture, LimbusEllipse guess,
                                    double eye_line_rad, double reach, double spread) {
  LimbusOptions options;
  options.size_search = spread;
  options.eye_line_rad = eye_line_rad;
  options.search = reach;
  auto fit = FitLimbus(picture.grey, picture.bgr, guess, options);
  if (!fit) return std::nullopt;
  guess.centre_px = fit->ellipse.centre_px;
  options.search = 0.15;
  fit = FitLimbus(picture.grey, picture.bgr, guess, options);
  if (!fit || !Believable(*fit)) return std::nullopt;
  return fit;
}

std::optional<LimbusFit> FindIrisBetween(const EyeChannels& picture,
                                         const Eigen::Vector2d& image_left,
                                         const Eigen::Vector2d& image_right, double radius_px,
                                         double spread) {
  const Eigen::Vector2d line = (image_right - image_left).normalized();
  const Eigen::Vector2d up(line.y(), -line.x());
  std::optional<LimbusFit> best;
  for (const double along : {0.0, -0.45, 0.45}) {
    LimbusEllipse guess;
    guess.centre_px =
        (image_left + image_right) / 2 + radius_px * (along * line + kIrisAboveCorners * up);
    guess.semi_major_px = radius_px;
    const auto fit = FindIrisAt(picture, guess, std::atan2(line.y(), line.x()), 0.35, spread);
    if (fit && (!best || Strength(*fit) > Strength(*best))) best = fit;
  }
  return best;
}

Eigen::Matrix3d CovarianceOf(const LimbusFit& fit) {
  constexpr double kAcross = 0.05;  // pixels
  constexpr double kAlong = 0.10;
  constexpr double kSize = 0.04;
  return fit.covariance_px2 +
         Eigen::Matrix3d(
             Eigen::Vector3d(kAcross * kAcross, kAlong * kAlong, kSize * kSize).asDiagonal());
}

}  // namespace nearpoint
