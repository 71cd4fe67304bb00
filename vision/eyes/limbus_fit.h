// The limbus (edge of the iris) of one eye as an ellipse of known shape, found at sub-pixel
// precision from the arcs that the lids leave free on the left and on the right.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>
#include <optional>

namespace nearpoint {

// Where an eye is free of its lids.
class EyeOpening {
 public:
  virtual ~EyeOpening() = default;
  // How far inside a point (pixels) lies, pixels; negative beneath a lid.
  [[nodiscard]] virtual double Inside(const Eigen::Vector2d& px) const = 0;
};

// An ellipse in pixels; pixel centres at integers. `angle` turns the major axis from the image's x
// axis toward y.
struct LimbusEllipse {
  Eigen::Vector2d centre_px = Eigen::Vector2d::Zero();
  double semi_major_px = 0;  // > 0
  double aspect = 1;         // minor to major axis, in (0, 1]
  double angle_rad = 0;
};

struct LimbusOptions {
  double search =
      0.30;  // how far the edge may be from the guess, as a fraction of the semi-major axis
  double size_search = 0.30;  // the same for the semi-major axis alone: an eye that is followed
                              // hardly changes its size
  double eye_line_rad = 0;    // direction of the line through both eyes in the image; the arcs lie
                              // left and right along it
  // Where the lids leave the eye free, when it is known: edges beneath them are not looked for, and
  // an eye of which they leave little needs fewer edge points. nullptr: not known. Not owned.
  const EyeOpening* lids = nullptr;
  // 8-bit steps of light between iris and sclera below which an edge is not believed.
  double min_contrast = 6;
  // Where it is already known that an eye is there: as many deviations of the picture's noise do as
  // well, for the light may be dim. 0: not asked.
  double min_contrast_in_noise = 0;
};

struct LimbusFit {
  LimbusEllipse ellipse;  // aspect and angle as in the guess
  // Of centre x, centre y and semi-major axis: residuals of this fit, and smooth errors of the edge
  // that no residual shows.
  Eigen::Matrix3d covariance_px2;
  // How centre x, centre y and semi-major axis would have come out, pixels, had the limbus been
  // wider along the eye line than the guess's shape by a factor e with the same semi-major axis.
  // The arcs lie left and right and cannot tell a wider ellipse from a larger one; whoever knows
  // how far the eye is turned can.
  Eigen::Vector3d per_log_width = Eigen::Vector3d::Zero();
  double contrast = 0;     // median step from iris to sclera, 8-bit steps
  double blur_px = 0;      // median standard deviation of the edge's transition
  double residual_px = 0;  // robust spread of the edge points around the ellipse
  int left_points = 0;     // edge points used on the image-left arc, of kRaysPerArc
  int right_points = 0;
};

inline constexpr int kRaysPerArc = 32;

// luma: the picture's 8-bit brightness, in which the edge is located. bgr: the picture in colour,
// of the same size, which tells white of the eye from skin; it may be empty, then no edge is
// refused for what lies beyond it. guess: where the limbus should be; size and place may be off by
// options.search. Where the arcs tell no size (one arc alone, a poor one) the answer stays near the
// guess's, and its covariance says how badly size and place are told apart: the guess's own size is
// not counted in it. Returns nullopt when too few edge points agree on one ellipse: lids closed,
// iris hidden or out of the picture.
[[nodiscard]] std::optional<LimbusFit> FitLimbus(const cv::Mat& luma, const cv::Mat& bgr,
                                                 const LimbusEllipse& guess,
                                                 const LimbusOptions& options);

}  // namespace nearpoint
