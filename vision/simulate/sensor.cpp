#include "vision/simulate/sensor.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "vision/simulate/projection.h"
#include "vision/simulate/random.h"

namespace nearpoint::simulate {

double BlurCirclePx(const Optics& optics, Length distance) {
  return optics.camera.fx * optics.aperture.mm() *
         std::abs(1 / distance.mm() - 1 / optics.focus.mm());
}

void BlurLikeLens(double circle_px, cv::Mat& bgr) {
  constexpr double kBasePx = 0.6;
  // A disc has the variance (diameter / 4)^2 along each axis.
  const double sigma = std::hypot(kBasePx, circle_px / 4);
  if (sigma < 2) {
    const int size = sigma < 0.8 ? 5 : 2 * static_cast<int>(std::ceil(2.5 * sigma)) + 1;
    cv::GaussianBlur(bgr, bgr, {size, size}, sigma, sigma, cv::BORDER_REPLICATE);
    return;
  }
  // Two passes of a box come near the flat top of a disc: variance (n^2 - 1) / 12 each.
  const double n = std::sqrt(12 * (sigma * sigma) / 2 + 1);
  const int odd = 2 * static_cast<int>(std::lround((n - 1) / 2)) + 1;
  cv::blur(bgr, bgr, {odd, odd}, {-1, -1}, cv::BORDER_REPLICATE);
  const double rest = 12 * (sigma * sigma - (odd * odd - 1) / 12.0) + 1;
  const int second =
      std::max(1, 2 * static_cast<int>(std::lround((std::sqrt(std::max(1.0, rest)) - 1) / 2)) + 1);
  cv::blur(bgr, bgr, {second, second}, {-1, -1}, cv::BORDER_REPLICATE);
}

namespace {

// The affine map of the picture that carries the face from one pose to another, forward.
cv::Matx23d FaceMotion(const CameraIntrinsics& camera, const PatientState& from,
                       const PatientState& to, double part, double* largest_px) {
  Eigen::Matrix<double, 8, 3> rows;
  Eigen::Matrix<double, 8, 2> moved;
  int i = 0;
  *largest_px = 0;
  for (const double x : {-40.0, 40.0}) {
    for (const double y : {-30.0, 0.0, 15.0, 30.0}) {
      const Eigen::Vector3d in_head(x, y, 0);
      const Eigen::Vector2d a = Project(camera, from.camera_from_head * in_head + from.eye_mid_mm);
      const Eigen::Vector2d b = Project(camera, to.camera_from_head * in_head + to.eye_mid_mm);
      *largest_px = std::max(*largest_px, (b - a).norm());
      rows.row(i) << a.x(), a.y(), 1;
      moved.row(i) = (a + part * (b - a)).transpose();
      ++i;
    }
  }
  const Eigen::Matrix<double, 3, 2> m = rows.colPivHouseholderQr().solve(moved);
  return {m(0, 0), m(1, 0), m(2, 0), m(0, 1), m(1, 1), m(2, 1)};
}

}  // namespace

void BlurByMotion(const CameraIntrinsics& camera, const PatientState& opening,
                  const PatientState& middle, const PatientState& closing, cv::Mat& bgr) {
  if (std::min(opening.eye_mid_mm.z(), closing.eye_mid_mm.z()) < 10) return;
  // Two taps with the variance of an even smear: at 1/sqrt(3) of the way to either end.
  constexpr double kPart = 0.57735;
  double back_px = 0;
  double forth_px = 0;
  const cv::Matx23d back = FaceMotion(camera, middle, opening, kPart, &back_px);
  const cv::Matx23d forth = FaceMotion(camera, middle, closing, kPart, &forth_px);
  if (std::max(back_px, forth_px) < 0.3) return;
  cv::Mat a;
  cv::Mat b;
  cv::warpAffine(bgr, a, back, bgr.size(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
  cv::warpAffine(bgr, b, forth, bgr.size(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
  cv::addWeighted(a, 0.5, b, 0.5, 0, bgr);
}

void ExposureControl::Follow(const cv::Mat& bgr, double elapsed_s) {
  constexpr double kWanted = 118;
  constexpr double kLowest = 0.2;
  constexpr double kHighest = 16;
  constexpr double kTimeS = 0.35;
  double sum = 0;
  double weight = 0;
  for (int y = 4; y < bgr.rows; y += 9) {
    for (int x = 4; x < bgr.cols; x += 9) {
      const double u = 2.0 * x / bgr.cols - 1;
      const double v = 2.0 * y / bgr.rows - 1;
      const double w = std::exp(-2.5 * (u * u + v * v));
      sum += w * bgr.at<cv::Vec3b>(y, x)[1];
      weight += w;
    }
  }
  const double ratio = kWanted / std::max(2.0, sum / weight);
  const double wanted = std::clamp(gain_ * ratio * ratio, kLowest, kHighest);
  gain_ *= std::pow(wanted / gain_, 1 - std::exp(-elapsed_s / kTimeS));
}

SensorNoise::SensorNoise(int width, std::uint64_t seed)
    : seed_(seed), tile_(192, 3 * (width + 256), CV_16S) {
  Random random(seed, 61);
  for (int y = 0; y < tile_.rows; ++y) {
    auto* row = tile_.ptr<std::int16_t>(y);
    double before[3] = {0, 0, 0};
    for (int x = 0; x < tile_.cols; x += 3) {
      const double shared = random.Normal();
      for (int k = 0; k < 3; ++k) {
        // Demosaicing ties the colours and the neighbours a little.
        const double own = 0.75 * shared + 0.6614 * random.Normal();
        const double value = 0.3 * before[k] + 0.9539 * own;
        before[k] = value;
        row[x + k] = cv::saturate_cast<std::int16_t>(64 * value);
      }
    }
  }
}

double SensorNoise::Deviation(const Light& light, double gain) {
  return light.noise_sd * std::pow(std::max(1.0, gain), 0.6);
}

void SensorNoise::Add(double deviation, std::int64_t frame, cv::Mat& bgr) const {
  if (deviation <= 0) return;
  const int scale = static_cast<int>(std::lround(64 * deviation));
  cv::parallel_for_(
      cv::Range(0, bgr.rows),
      [&](const cv::Range& range) {
        for (int y = range.start; y < range.end; ++y) {
          Random random(seed_ ^ static_cast<std::uint64_t>(frame),
                        1000 + static_cast<std::uint64_t>(y));
          const std::uint64_t draw = random.Next();
          const auto* noise = tile_.ptr<std::int16_t>(
                                  static_cast<int>(draw % static_cast<std::uint64_t>(tile_.rows))) +
                              3 * static_cast<std::ptrdiff_t>((draw >> 32) % 256);
          uchar* __restrict row = bgr.ptr<uchar>(y);
          const int count = 3 * bgr.cols;
          for (int x = 0; x < count; ++x) {
            const int value = row[x] + ((noise[x] * scale + 2048) >> 12);
            row[x] = static_cast<uchar>(std::clamp(value, 0, 255));
          }
        }
      },
      4);
}

}  // namespace nearpoint::simulate
