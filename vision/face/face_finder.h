// Whole faces: where one is in a picture, and the 68 landmarks of the iBUG scheme inside it. The
// only folder that knows dlib, and only its .cpp files do.
#pragma once

#include <Eigen/Core>
#include <array>
#include <memory>
#include <opencv2/core.hpp>
#include <optional>
#include <string>

#include "vision/core/result.h"

namespace nearpoint {

// Pixel positions in the picture as captured, numbered from 0 as the iBUG 300-W annotation does: 36
// and 39 are the outer and inner corner of the patient's right eye, 42 and 45 the inner and outer
// corner of the left, 27 to 30 the bridge of the nose down to its tip.
using Landmarks = std::array<Eigen::Vector2d, 68>;

// A square in pixels in the convention of the detector that the landmark model was trained with.
struct FaceBox {
  Eigen::Vector2d centre_px;
  double side_px = 0;
};

class FaceFinder {
 public:
  // Loads the landmark model; takes about half a second, call it once and off the window's thread.
  // Errors: kNotFound, kUnreadable.
  [[nodiscard]] static Result<FaceFinder> Load(const std::string& landmark_file);

  FaceFinder(FaceFinder&&) noexcept;
  FaceFinder& operator=(FaceFinder&&) noexcept;
  ~FaceFinder();

  // The largest face of a grey 8-bit picture. `reduction` is the factor by which the picture is
  // made smaller for the search; faces smaller than about 80 pixels in the reduced picture are not
  // found.
  [[nodiscard]] std::optional<FaceBox> Detect(const cv::Mat& grey, double reduction) const;

  // The landmarks inside a box. Always answers: whether there is a face must be known otherwise.
  [[nodiscard]] Landmarks Fit(const cv::Mat& grey, const FaceBox& box) const;

  // The box that the detector would have given for these landmarks, to follow a face without
  // searching again.
  [[nodiscard]] FaceBox BoxFrom(const Landmarks& landmarks) const;

 private:
  struct Impl;
  explicit FaceFinder(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace nearpoint
