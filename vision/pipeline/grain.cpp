#include "vision/pipeline/grain.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace nearpoint {
namespace {

constexpr double kGrainy = 0.024;
constexpr double kBlack = 12;  // of 255
constexpr int kSmallestPx = 16;

}  // namespace

double GrainOf(const cv::Mat& grey, const cv::Rect& region) {
  if (region.width < kSmallestPx || region.height < kSmallestPx) return 0;
  const cv::Mat seen = grey(region);
  cv::Mat differences;
  const cv::Mat kernel = (cv::Mat_<float>(3, 3) << 1, -2, 1, -2, 4, -2, 1, -2, 1);
  cv::filter2D(seen, differences, CV_32F, kernel);
  std::vector<float> sizes(differences.begin<float>(), differences.end<float>());
  for (float& v : sizes) v = std::abs(v);
  const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
  std::nth_element(sizes.begin(), middle, sizes.end());
  // Of white noise the differences are six times as large; the median of sizes is 0.6745 of one
  // deviation.
  const double noise = *middle / 6 / 0.6745;
  return noise / std::max(1.0, cv::mean(seen)[0]);
}

bool IsTooDark(const cv::Mat& grey, const cv::Rect& region) {
  if (region.area() == 0) return false;
  return cv::mean(grey(region))[0] < kBlack || GrainOf(grey, region) > kGrainy;
}

}  // namespace nearpoint
