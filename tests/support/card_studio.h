// Pictures of a card whose place and camera are known exactly: every pixel's ray is followed to the
// card. Shares no code with what finds the card or adjusts the camera but the picture of the
// pattern.
#pragma once

#include <Eigen/Geometry>
#include <cstdint>
#include <functional>
#include <opencv2/core.hpp>
#include <random>
#include <vector>

#include "calibration/profile.h"

namespace nearpoint::drawn {

// A flat or bent thing of the given size with a picture on it, linear light 0..1, CV_32F.
struct DrawnCard {
  cv::Mat picture;
  double dots_per_mm = 12;
  double width_mm = 85.60, height_mm = 53.98;
  double corner_radius_mm = 0;
  double thickness_mm = 0;  // its side walls have the brightness `wall`
  double wall = 0.5;
  double bow_mm =
      0;  // the left and right ends stand this much nearer to the reader than the middle
  double bow_y_mm = 0;  // the same for the upper and lower ends
};

[[nodiscard]] DrawnCard PatternCard(double print_scale = 1);
// A bank card: a light or dark face with a stripe, a chip and lines of embossed figures, or plain.
[[nodiscard]] DrawnCard BankCard(double brightness = 0.75, bool printed = true,
                                 double width_mm = 85.60, double height_mm = 53.98);

struct CardPose {
  Eigen::Matrix3d camera_from_card = Eigen::Matrix3d::Identity();
  Eigen::Vector3d middle_in_camera_mm{0, 0, 250};
};

struct CardScene {
  double background = 0.12;  // linear light, with a soft pattern on it
  double clutter = 0.05;     // amplitude of that pattern
  double shading = 0.15;     // fall of the light from left to right over the picture
  double blur_px = 0.8;      // standard deviation of the lens blur
  double noise_codes = 1.5;  // standard deviation, 8-bit steps
  std::uint64_t seed = 1;
  // Drawn over the light before the blur: fingers, glare.
  std::function<void(cv::Mat& linear)> cover;
};

struct PlacedCard {
  const DrawnCard* card = nullptr;
  CardPose pose;
};

// 8-bit grey, as a webcam codes it. The later cards hide the earlier ones.
[[nodiscard]] cv::Mat TakePicture(const CameraIntrinsics& camera,
                                  const std::vector<PlacedCard>& cards, const CardScene& scene);

// The sheet on a table as the camera over it sees it: the pattern, printed at print_scale, and a
// real card lying on its place beside it.
[[nodiscard]] cv::Mat TakeSheetPicture(const CameraIntrinsics& camera, double print_scale,
                                       double tilt_deg, double real_card_mm = 85.60);

// Pixel of a point of the flat card.
[[nodiscard]] Eigen::Vector2d TruePixel(const CameraIntrinsics& camera, const CardPose& pose,
                                        const Eigen::Vector2d& card_mm);

// A webcam drawn at random: 1280x720, field of view 55 to 78 degrees, lens distortion and centre as
// of cheap lenses.
[[nodiscard]] CameraIntrinsics DrawCamera(std::mt19937_64& random);

// Views as a person gives them who follows the guidance: tilts to all sides of about `tilt`, the
// card in different parts of the picture and filling about `fill` of its width.
[[nodiscard]] std::vector<CardPose> DrawPoses(const CameraIntrinsics& camera, int count,
                                              std::mt19937_64& random, double tilt_deg = 35,
                                              double fill = 0.4);

}  // namespace nearpoint::drawn
