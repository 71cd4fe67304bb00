// Draws a window of what the camera of a scene sees, with what is true of both eyes.
#pragma once

#include <Eigen/Core>
#include <array>
#include <opencv2/core.hpp>

#include "models/eye_net/eye_scene.h"

namespace nearpoint::eye_net {

// Where a window lies in the camera's picture, whose width is 1000 here.
struct Window {
  Eigen::Vector2f middle{500, 280};
  float scale = 0.16F;  // pixels of the window per unit
  int width = 160, height = 90;
};

inline constexpr int kLidColumns = 7;

// Pixels of the window; centres at integers. What lies outside is told all the same.
struct EyeTruth {
  Eigen::Vector2f iris;          // middle of the limbus
  float radius = 0;              // its semi-major axis
  Eigen::Vector2f inner, outer;  // corners
  std::array<float, kLidColumns> upper{},
      lower{};            // lid margins along the line of the corners, square to it
  float aperture = 0;     // largest opening over the diameter of the iris
  float limbus_seen = 0;  // share of the limbus that lids leave free
  float covered = 0;      // share of the opening that hair, rims and reflections cover
};

struct EyePicture {
  cv::Mat bgr;                   // CV_8UC3, sRGB
  std::array<EyeTruth, 2> eyes;  // patient's left, right
};

// background: any picture, laid behind the head.
[[nodiscard]] EyePicture DrawEyes(const Scene& scene, const Window& window,
                                  const cv::Mat& background, simulate::Random& random);

// The window around one eye in which its iris has this radius.
[[nodiscard]] Window AroundEye(const Scene& scene, int eye, float radius_px, int width, int height);
[[nodiscard]] Window AroundPoint(const Scene& scene, const Eigen::Vector3f& in_head,
                                 float radius_px, int width, int height);

}  // namespace nearpoint::eye_net
