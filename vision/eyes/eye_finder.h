// Finds the two irises of a face too near to be seen whole, without having seen the face before.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

namespace nearpoint {

struct IrisCandidate {
  Eigen::Vector2d centre_px;
  double radius_px = 0;
  double score = 0;  // mean normalised outward brightening along the side arcs, 0..1
};

// Two irises of one face: about the same size, at about the same height, apart by what human faces
// allow.
struct IrisPair {
  IrisCandidate image_left;  // the patient's right eye (pictures are not mirrored)
  IrisCandidate image_right;
};

struct EyeFinderOptions {
  double min_radius = 0.020;  // of the picture's width
  double max_radius = 0.105;
};

// channel: one 8-bit channel in which the sclera is brighter than the iris and than skin: the
// smaller of blue and red (in red alone brows look like irises: of 20 near test pictures 15 are
// solved in red, 20 in the smaller of both). Coarse: radius and place within about a sixth of the
// radius; FitLimbus makes them exact. Best pair first, at most eight.
[[nodiscard]] std::vector<IrisPair> FindIrisPairs(const cv::Mat& channel,
                                                  const EyeFinderOptions& options);

// Whether what lies beside an iris, on one side at least, is white of an eye: whiter than the iris
// (in the smaller of blue and red), and whiter or clearly less reddish than the skin above and
// below the lids. bgr: 8-bit picture.
[[nodiscard]] bool HasWhiteBeside(const cv::Mat& bgr, const Eigen::Vector2d& centre_px,
                                  double radius_px, double eye_line_rad);

}  // namespace nearpoint
