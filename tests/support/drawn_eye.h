// Eyes drawn by plain formulas, for tests that need to know exactly where the limbus is. Nothing of
// the simulated patient's renderer is used, so a shared mistake cannot hide.
#pragma once

#include <Eigen/Core>
#include <cmath>
#include <numbers>
#include <opencv2/core.hpp>

namespace nearpoint::testing {

struct DrawnEye {
  Eigen::Vector2d centre_px{100, 80};
  double semi_major_px = 30;
  double aspect = 1;        // minor over major
  double angle_rad = 0;     // of the major axis
  double edge_px = 1.5;     // width of the linear transition from iris to sclera
  double upper_lid = 0.75;  // where the lids stand, in semi-major axes above and below the centre
  double lower_lid = 0.9;
  double iris = 0.08, pupil = 0.01, sclera = 0.5, skin = 0.25;  // linear light, 0..1
  double half_width = 2.2;  // of the lid opening, in semi-major axes
};

inline double SrgbCoded(double linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}

// Adds the eye to a picture in linear light (CV_64F). 3x3 samples a pixel.
inline void Draw(const DrawnEye& eye, cv::Mat* linear) {
  const double c = std::cos(eye.angle_rad), s = std::sin(eye.angle_rad);
  const int reach = static_cast<int>(3 * eye.semi_major_px);
  const auto cx = static_cast<int>(eye.centre_px.x()), cy = static_cast<int>(eye.centre_px.y());
  for (int y = std::max(0, cy - reach); y < std::min(linear->rows, cy + reach); ++y) {
    for (int x = std::max(0, cx - reach); x < std::min(linear->cols, cx + reach); ++x) {
      double sum = 0;
      for (int sub = 0; sub < 9; ++sub) {
        const int column = sub % 3 - 1, row = sub / 3 - 1;
        const double px = x + column / 3.0 - eye.centre_px.x();
        const double py = y + row / 3.0 - eye.centre_px.y();
        const double t = px / (eye.half_width * eye.semi_major_px);
        const double bow = std::abs(t) < 1 ? std::sqrt(1 - t * t) : 0;
        double value = eye.skin;
        if (py > -eye.upper_lid * eye.semi_major_px * bow &&
            py < eye.lower_lid * eye.semi_major_px * bow) {
          const double u = c * px + s * py, v = (-s * px + c * py) / eye.aspect;
          const double r = std::hypot(u, v);
          const double mix = std::clamp((r - eye.semi_major_px) / eye.edge_px + 0.5, 0.0, 1.0);
          const double inside = r < 0.4 * eye.semi_major_px ? eye.pupil : eye.iris;
          value = inside * (1 - mix) + eye.sclera * mix;
        }
        sum += value / 9;
      }
      linear->at<double>(y, x) = sum;
    }
  }
}

// A grey 8-bit picture with the sRGB curve and Gaussian noise of the given 8-bit deviation.
inline cv::Mat Coded(const cv::Mat& linear, double noise_sd = 0, std::uint64_t seed = 1) {
  cv::Mat noise(linear.size(), CV_64F, cv::Scalar(0));
  if (noise_sd > 0) {
    cv::RNG rng(seed);
    rng.fill(noise, cv::RNG::NORMAL, 0, noise_sd);
  }
  cv::Mat out(linear.size(), CV_8U);
  for (int y = 0; y < out.rows; ++y) {
    for (int x = 0; x < out.cols; ++x) {
      out.at<std::uint8_t>(y, x) = cv::saturate_cast<std::uint8_t>(
          255 * SrgbCoded(linear.at<double>(y, x)) + noise.at<double>(y, x));
    }
  }
  return out;
}

}  // namespace nearpoint::testing
