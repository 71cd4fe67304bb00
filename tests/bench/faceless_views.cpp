#include "tests/bench/faceless_views.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace nearpoint::bench {
namespace {

constexpr double kNoise = 2;
constexpr int kStillFrames = 2;
constexpr int kPanFrames = 6;
constexpr int kParts = 2;

// Where a camera looks: the middle of the view as shares of the picture, how much larger than the
// whole it is shown, and how far the camera is tilted.
struct View {
  double x = 0.5, y = 0.5, zoom = 1, tilt_deg = 0;
  bool mirrored = false, upside_down = false;
};

cv::Mat Look(const cv::Mat& picture, cv::Size size, const View& view) {
  const double cover =
      std::max(double(size.width) / picture.cols, double(size.height) / picture.rows);
  const double scale = cover * view.zoom;
  // Keeps the view inside the picture as far as it reaches; a tilt may show its mirrored rim.
  const double half_x = size.width / 2.0 / scale;
  const double half_y = size.height / 2.0 / scale;
  const double x =
      std::clamp(view.x * picture.cols, half_x, std::max(half_x, picture.cols - half_x));
  const double y =
      std::clamp(view.y * picture.rows, half_y, std::max(half_y, picture.rows - half_y));
  cv::Mat move = cv::getRotationMatrix2D(cv::Point2f(float(x), float(y)), view.tilt_deg, scale);
  move.at<double>(0, 2) += size.width / 2.0 - x;
  move.at<double>(1, 2) += size.height / 2.0 - y;
  cv::Mat source = picture;
  if (scale < 0.7) {  // less is averaged than the steps of the picture ask for: smooth first
    const double sigma = 0.4 / scale;
    cv::GaussianBlur(picture, source, {}, sigma);
  }
  cv::Mat out;
  cv::warpAffine(source, out, move, size, cv::INTER_LINEAR, cv::BORDER_REFLECT);
  if (view.mirrored) cv::flip(out, out, 1);
  if (view.upside_down) cv::flip(out, out, 0);
  return out;
}

}  // namespace

cv::Mat WithNoise(const cv::Mat& bgr, cv::RNG& random) {
  cv::Mat noise(bgr.size(), CV_16SC3), wide, out;
  random.fill(noise, cv::RNG::NORMAL, 0, kNoise);
  bgr.convertTo(wide, CV_16SC3);
  wide += noise;
  wide.convertTo(out, CV_8UC3);
  return out;
}

std::vector<std::vector<cv::Mat>> ViewsOf(const cv::Mat& picture, cv::Size size,
                                          std::uint64_t seed) {
  cv::RNG random(0x9E3779B97F4A7C15ULL * (seed + 1));
  std::vector<View> stills(1);
  const auto chance = [&] { return random.uniform(0.0, 1.0) < 0.5; };
  for (int i = 0; i < kParts; ++i) {
    View part;
    part.x = random.uniform(0.1, 0.9);
    part.y = random.uniform(0.1, 0.9);
    part.zoom = random.uniform(1.5, 4.0);
    part.tilt_deg = random.uniform(-15.0, 15.0);
    part.mirrored = chance();
    part.upside_down = chance();
    stills.push_back(part);
  }
  std::vector<std::vector<cv::Mat>> sequences;
  for (const View& still : stills) {
    const cv::Mat seen = Look(picture, size, still);
    sequences.emplace_back();
    for (int i = 0; i < kStillFrames; ++i) sequences.back().push_back(WithNoise(seen, random));
  }
  View pan;
  pan.x = random.uniform(0.2, 0.8);
  pan.y = random.uniform(0.2, 0.8);
  pan.zoom = random.uniform(1.2, 2.5);
  const double step_x = random.uniform(-0.008, 0.008);
  const double step_y = random.uniform(-0.004, 0.004);
  const double nearer = random.uniform(1.0, 1.02);
  sequences.emplace_back();
  for (int i = 0; i < kPanFrames; ++i) {
    sequences.back().push_back(WithNoise(Look(picture, size, pan), random));
    pan.x += step_x;
    pan.y += step_y;
    pan.zoom *= nearer;
  }
  return sequences;
}

void CutOut(const cv::Rect& region, cv::Mat* bgr) {
  const cv::Rect whole(0, 0, bgr->cols, bgr->rows);
  const cv::Rect hole = region & whole;
  if (hole.empty()) return;
  // Small, so that few steps of diffusion reach across the hole.
  const double shrink = std::min(1.0, 40.0 / std::max(hole.width, hole.height));
  cv::Mat small, large;
  cv::resize(*bgr, small, {}, shrink, shrink, cv::INTER_AREA);
  const double sx = double(small.cols) / bgr->cols;
  const double sy = double(small.rows) / bgr->rows;
  const cv::Rect small_hole(cv::Point(int(std::floor(hole.x * sx)), int(std::floor(hole.y * sy))),
                            cv::Point(int(std::ceil((hole.x + hole.width) * sx)),
                                      int(std::ceil((hole.y + hole.height) * sy))));
  cv::Mat mask(small.size(), CV_8UC1, cv::Scalar(0));
  mask(small_hole & cv::Rect(0, 0, small.cols, small.rows)).setTo(255);
  small.setTo(cv::mean(small, ~mask), mask);
  small.convertTo(small, CV_32FC3);
  cv::Mat spread;
  for (int i = 0; i < 400; ++i) {
    cv::blur(small, spread, {3, 3});
    spread.copyTo(small, mask);
  }
  small.convertTo(small, CV_8UC3);
  cv::resize(small, large, bgr->size(), 0, 0, cv::INTER_LINEAR);
  large(hole).copyTo((*bgr)(hole));
}

}  // namespace nearpoint::bench
