#include "vision/eyes/limbus_rays.h"

#include <algorithm>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace nearpoint::limbus {
namespace {

constexpr double kWorkRadius = 36;  // pixels; larger irises are reduced to this before the fit
// Pixels; smaller ones are enlarged, so that smoothing and the steps along a ray stay small beside
// them.
constexpr double kLeastRadius = 13;

// The light behind each 8-bit value of a picture coded with the sRGB curve (IEC 61966-2-1), scaled
// to 0..255.
const cv::Mat& LinearLight() {
  static const cv::Mat table = [] {
    cv::Mat t(1, 256, CV_32F);
    for (int i = 0; i < 256; ++i) {
      const double v = i / 255.0;
      t.at<float>(0, i) =
          static_cast<float>(255 * (v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4)));
    }
    return t;
  }();
  return table;
}

// What is left of neighbouring pixels when edges and slopes are taken out (Immerkaer, Computer
// Vision and Image Understanding 64, 1996): a mask of noise variance 36; the median, since edges
// are not noise.
double NoiseOf(const cv::Mat& light) {
  static const cv::Mat mask = (cv::Mat_<float>(3, 3) << 1, -2, 1, -2, 4, -2, 1, -2, 1);
  cv::Mat rest;
  cv::filter2D(light, rest, CV_32F, mask);
  std::vector<float> sizes;
  sizes.reserve(rest.total());
  for (int y = 1; y + 1 < rest.rows; ++y) {
    for (int x = 1; x + 1 < rest.cols; ++x) sizes.push_back(std::abs(rest.at<float>(y, x)));
  }
  if (sizes.empty()) return 0;
  const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
  std::nth_element(sizes.begin(), middle, sizes.end());
  return 1.4826 * static_cast<double>(*middle) / 6;
}

}  // namespace

std::optional<Patch> CutPatch(const cv::Mat& picture, int channel, const LimbusEllipse& guess,
                              double reach) {
  const double half = guess.semi_major_px * (1 + reach) + 4;
  cv::Rect roi(static_cast<int>(std::floor(guess.centre_px.x() - half)),
               static_cast<int>(std::floor(guess.centre_px.y() - half)),
               static_cast<int>(std::ceil(2 * half)) + 1,
               static_cast<int>(std::ceil(2 * half)) + 1);
  roi &= cv::Rect(0, 0, picture.cols, picture.rows);
  const int factor = std::max(1, static_cast<int>(std::lround(guess.semi_major_px / kWorkRadius)));
  roi.width -= roi.width % factor;
  roi.height -= roi.height % factor;
  if (roi.width < 4 * factor || roi.height < 4 * factor) return std::nullopt;
  // Blur adds up light, not gamma-coded numbers: in coded values the middle of a blurred edge lies
  // on its dark side.
  cv::Mat plane = picture(roi), light, small;
  if (channel >= 0) cv::extractChannel(picture(roi), plane, channel);
  cv::LUT(plane, LinearLight(), light);
  // Enlarging: the inverse of a factor.
  const int larger =
      factor > 1 ? 1 : static_cast<int>(std::ceil(kLeastRadius / guess.semi_major_px - 0.2));
  if (larger > 1) {
    cv::resize(light, small, {}, larger, larger, cv::INTER_CUBIC);
  } else if (factor == 1) {
    small = light;
  } else {
    cv::resize(light, small, cv::Size(roi.width / factor, roi.height / factor), 0, 0,
               cv::INTER_AREA);
  }
  Patch patch;
  patch.noise = NoiseOf(light);
  patch.grey = small;
  cv::GaussianBlur(patch.grey, patch.grey, cv::Size(3, 3), 0.7);
  patch.scale = larger > 1 ? 1.0 / larger : factor;
  patch.origin = Eigen::Vector2d(roi.x + (patch.scale - 1) / 2, roi.y + (patch.scale - 1) / 2);
  return patch;
}

std::array<Ray, kRays> MakeRays(const LimbusEllipse& guess, double eye_line_rad) {
  std::array<Ray, kRays> rays;
  const double c = std::cos(guess.angle_rad), s = std::sin(guess.angle_rad);
  for (int arc = 0; arc < 2; ++arc) {
    for (int k = 0; k < kRaysPerArc; ++k) {
      const double t = (k + 0.5) / kRaysPerArc;
      const double up_down = (-kUpper + t * (kUpper + kLower)) * std::numbers::pi / 180;
      const double from_eye_line = arc == 1 ? up_down : std::numbers::pi - up_down;
      const double phi = from_eye_line + eye_line_rad - guess.angle_rad;
      Ray& ray = rays[static_cast<std::size_t>(arc * kRaysPerArc + k)];
      ray.unit = {std::cos(phi), std::sin(phi)};
      const Eigen::Vector2d e(ray.unit.x(), ray.unit.y() * guess.aspect);
      ray.direction = {c * e.x() - s * e.y(), s * e.x() + c * e.y()};
      ray.stretch = ray.direction.norm();
      ray.arc = arc;
    }
  }
  return rays;
}

Unrolled Unroll(const Patch& patch, const std::array<Ray, kRays>& rays,
                const Eigen::Vector2d& centre, double radius, double reach) {
  Unrolled u;
  u.first = radius * (1 - reach);
  u.step = 2 * radius * reach / (kBins - 1);
  for (std::size_t r = 0; r < kRays; ++r) {
    std::size_t b = 0;
    for (; b < kBins; ++b) {
      const Eigen::Vector2d p =
          centre + rays[r].direction * (u.first + static_cast<double>(b) * u.step);
      if (!patch.Sample(p.x(), p.y(), &u.value[r][b])) break;
    }
    u.known[r] = static_cast<int>(b);
    for (std::size_t k = 1; k + 1 < b; ++k)
      u.slope[r][k] = (u.value[r][k + 1] - u.value[r][k - 1]) / 2;
  }
  return u;
}

}  // namespace nearpoint::limbus
