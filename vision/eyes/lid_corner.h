// The corners of an eye (canthi), where upper and lower lid meet, at sub-pixel precision.
//
// The landmark model marks the corners one to three pixels beside where they are, alike in all
// pictures of a person. Here a corner is stepped to from that mark by regressions from the light
// around it, each from nearer by (a cascade, after Xiong and De la Torre, CVPR 2013), learned from
// the simulated patient alone; see models/README.md. Brightness and colour are logarithms of linear
// light less their mean and over their spread, so that neither light nor camera gain matter.
#pragma once

#include <Eigen/Core>
#include <array>
#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <utility>

#include "vision/core/result.h"

namespace nearpoint {

enum class LidCornerKind { kOuter, kInner };
inline constexpr int kLidCornerKinds = 2;

// The light around a place is looked at on a grid that is fixed in the eye: x from the other corner
// of the eye outward, y down along the picture, in units of half an iris of usual size (5.85 mm).
struct LidCornerGrid {
  static constexpr int kCols = 18, kRows = 15;
  static constexpr double kStepMm = 0.5;
  static constexpr double kFirstXMm = -5.25, kFirstYMm = -3.5;
  static constexpr int kPoints = kCols * kRows;
  // Brightness, colour and steepness of brightness at each point, and one.
  static constexpr int kFeatures = 3 * kPoints + 1;
};
inline constexpr int kLidCornerSteps = 3;
// The last steps are scaled by the eye's own width: by the iris alone the eyes of a small head come
// out too wide and those of a large one too narrow.
inline constexpr int kLidWidthSteps = 2;
using LidCornerFeatures = Eigen::Matrix<float, LidCornerGrid::kFeatures, 1>;
// From features to what is left to go, x and y, millimetres of an eye with a usual iris.
using LidCornerStep = Eigen::Matrix<float, 2, LidCornerGrid::kFeatures>;
struct LidCornerModel {
  std::array<std::array<LidCornerStep, kLidCornerSteps>, kLidCornerKinds> steps;
  std::array<std::array<LidCornerStep, kLidWidthSteps>, kLidCornerKinds> width_steps;
};

// Where the grid lies in the picture.
struct LidCornerFrame {
  Eigen::Vector2d outward;  // unit vector from the other corner of the eye
  Eigen::Vector2d down;     // unit vector square to it, toward the chin
  double px_per_mm = 0;     // by the iris: radius over 5.85 mm
};
// other_px: the eye's other corner, or where a landmark says it is.
[[nodiscard]] LidCornerFrame FrameOfCorner(const Eigen::Vector2d& corner_px,
                                           const Eigen::Vector2d& other_px, double iris_radius_px);
// The same with the eye 27 mm wide.
[[nodiscard]] LidCornerFrame FrameByWidth(const Eigen::Vector2d& corner_px,
                                          const Eigen::Vector2d& other_px);
// nullopt where the grid leaves the picture. bgr: 8 bit.
[[nodiscard]] std::optional<LidCornerFeatures> LookAtCorner(const cv::Mat& bgr,
                                                            const Eigen::Vector2d& at_px,
                                                            const LidCornerFrame& frame);

struct LidCorner {
  Eigen::Vector2d position_px;
  double sd_px = 0;  // of each coordinate in this picture; errors alike in all pictures of a person
                     // are not in it
};

class LidCornerFinder {
 public:
  // Errors: kNotFound, kUnreadable.
  [[nodiscard]] static Result<LidCornerFinder> Load(const std::string& file);
  explicit LidCornerFinder(LidCornerModel model) : model_(std::move(model)) {}

  // guess_px: within about 3 mm, as landmarks are. nullopt: from starts around the guess the steps
  // lead to different places, or far away: hidden by hair, the frame of glasses or a hand, or the
  // picture ends there.
  [[nodiscard]] std::optional<LidCorner> Find(const cv::Mat& bgr, LidCornerKind kind,
                                              const Eigen::Vector2d& guess_px,
                                              const Eigen::Vector2d& other_px,
                                              double iris_radius_px) const;

  // Both corners of one eye, outer first, each as Find does and then, where both are found, by the
  // eye's own width.
  [[nodiscard]] std::array<std::optional<LidCorner>, kLidCornerKinds> FindBoth(
      const cv::Mat& bgr, const std::array<Eigen::Vector2d, kLidCornerKinds>& guesses_px,
      double iris_radius_px) const;

 private:
  LidCornerModel model_;
};

// The file of a model, byte for byte.
[[nodiscard]] std::string SerializeLidCorners(const LidCornerModel& model);

}  // namespace nearpoint
