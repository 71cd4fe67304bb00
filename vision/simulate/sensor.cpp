#include "vision/simulate/sensor.h"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/core/hal/intrin.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "vision/simulate/light_scale.h"
#include "vision/simulate/pixel_store.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/random.h"

namespace nearpoint::simulate {

double BlurCirclePx(const Optics& optics, Length distance) {
  return optics.camera.fx * optics.aperture.mm() *
         std::abs(1 / distance.mm() - 1 / optics.focus.mm());
}

namespace {

// One side of a symmetric blur kernel, from its middle: the line spread of a disc of `radius`
// (a half ellipse) smoothed by a Gaussian. The sum of the whole kernel is 1.
std::vector<float> LineSpread(double radius, double sigma) {
  constexpr int kSlices = 32;
  const int reach = static_cast<int>(std::ceil(radius + 2.6 * sigma));
  std::vector<double> side(static_cast<std::size_t>(reach) + 1, 0.0);
  for (int slice = 0; slice < kSlices; ++slice) {
    // Chebyshev points of the second kind: each stands for its share of the half ellipse.
    const double angle = std::numbers::pi * (slice + 1) / (kSlices + 1);
    const double at = radius * std::cos(angle);
    const double share = std::sin(angle) * std::sin(angle);
    for (std::size_t k = 0; k < side.size(); ++k) {
      const double x = (static_cast<double>(k) - at) / sigma;
      side[k] += share * std::exp(-0.5 * x * x);
    }
  }
  double sum = side[0];
  for (std::size_t k = 1; k < side.size(); ++k) sum += 2 * side[k];
  std::vector<float> out;
  out.reserve(side.size());
  for (const double value : side) out.push_back(static_cast<float>(value / sum));
  return out;
}

// sum += weight * (a + b)
template <typename T>
void AddPair(float weight, const T* a, const T* b, int count, float* __restrict sum) {
  for (int x = 0; x < count; ++x) sum[x] += weight * static_cast<float>(a[x] + b[x]);
}

// Blurs columns, then rows, with the border repeated.
void Convolve(const std::vector<float>& side, const cv::Mat& in, cv::Mat& out) {
  out.create(in.size(), in.type());
  const int reach = static_cast<int>(side.size()) - 1;
  const int count = 3 * in.cols;
  const int pad = 3 * reach;
  cv::parallel_for_(
      cv::Range(0, in.rows),
      [&](const cv::Range& range) {
        std::vector<float> padded(static_cast<std::size_t>(count + 2 * pad));
        std::vector<float> sums(static_cast<std::size_t>(count));
        float* middle = padded.data() + pad;
        for (int y = range.start; y < range.end; ++y) {
          const auto* centre = in.ptr<ushort>(y);
          for (int x = 0; x < count; ++x) middle[x] = side[0] * static_cast<float>(centre[x]);
          for (int k = 1; k <= reach; ++k) {
            AddPair(side[static_cast<std::size_t>(k)], in.ptr<ushort>(std::max(0, y - k)),
                    in.ptr<ushort>(std::min(in.rows - 1, y + k)), count, middle);
          }
          for (int x = 0; x < pad; ++x) {
            padded[static_cast<std::size_t>(x)] = middle[x % 3];
            middle[count + x] = middle[count - 3 + x % 3];
          }
          float* sum = sums.data();
          for (int x = 0; x < count; ++x) sum[x] = 0.5F + side[0] * middle[x];
          for (int k = 1; k <= reach; ++k) {
            AddPair(side[static_cast<std::size_t>(k)], middle - 3 * static_cast<std::ptrdiff_t>(k),
                    middle + 3 * static_cast<std::ptrdiff_t>(k), count, sum);
          }
          auto* row = out.ptr<ushort>(y);
          // The weights sum to 1 and the input fits, so the sum does; through int it vectorises.
          for (int x = 0; x < count; ++x) {
            row[x] = static_cast<ushort>(std::min(65535, static_cast<int>(sum[x])));
          }
        }
      },
      8);
}

}  // namespace

void BlurLikeLens(double circle_px, cv::Mat& light, double smear_px) {
  constexpr double kBasePx = 0.6;
  // A disc has the variance (radius / 2)^2 along each axis; a smear half_length^2 / 3, shared by
  // the two axes.
  const double radius = circle_px / 2;
  const double rest = std::hypot(kBasePx, smear_px / std::sqrt(6.0));
  cv::Mat blurred;
  if (std::hypot(rest, radius / 2) < 2) {
    Convolve(LineSpread(radius, rest), light, blurred);
    light = blurred;
    return;
  }
  // At half the size. The kernels of pyrDown and pyrUp have the variance 1 each, along each axis
  // and in pixels of the full size.
  constexpr double kResized = 2;
  constexpr double kSmooth = 0.4;  // the least Gaussian that a grid of 1 carries
  const double variance = (rest * rest + radius * radius / 4 - kResized) / 4;
  const double disc = 2 * std::sqrt(std::max(0.0, variance - kSmooth * kSmooth));
  const double half_radius = std::min(disc, radius / 2);
  const double half_rest = std::sqrt(variance - half_radius * half_radius / 4);
  cv::Mat half;
  cv::pyrDown(light, half, {}, cv::BORDER_REPLICATE);
  Convolve(LineSpread(half_radius, half_rest), half, blurred);
  cv::pyrUp(blurred, light, light.size());
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

// The mean of the picture moved by two affine maps that are near the identity.
void MeanOfTwo(const cv::Mat& in, const cv::Matx23d& back, const cv::Matx23d& forth, cv::Mat& out) {
  out.create(in.size(), in.type());
  std::array<cv::Matx23f, 2> source_from_out;
  for (std::size_t tap = 0; tap < 2; ++tap) {
    cv::Matx23d inverse;
    cv::invertAffineTransform(tap == 0 ? back : forth, inverse);
    source_from_out[tap] = inverse;
  }
  // Four values are read where a pixel has three, so the last column is left out.
  const float last_x = static_cast<float>(in.cols) - 2.01F;
  const float last_y = static_cast<float>(in.rows) - 1.01F;
  const auto* start = in.ptr<ushort>();
  const auto stride = static_cast<std::ptrdiff_t>(in.step1());
  cv::parallel_for_(
      cv::Range(0, in.rows),
      [&](const cv::Range& range) {
        for (int y = range.start; y < range.end; ++y) {
          auto* row = out.ptr<cv::Vec3w>(y);
          for (int x = 0; x < in.cols; ++x) {
            cv::v_float32x4 sum = cv::v_setzero_f32();
            for (const cv::Matx23f& map : source_from_out) {
              const auto fx = static_cast<float>(x);
              const auto fy = static_cast<float>(y);
              const float sx =
                  std::clamp(map(0, 0) * fx + map(0, 1) * fy + map(0, 2), 0.0F, last_x);
              const float sy =
                  std::clamp(map(1, 0) * fx + map(1, 1) * fy + map(1, 2), 0.0F, last_y);
              const int col = static_cast<int>(sx);
              const int line = static_cast<int>(sy);
              const ushort* top = start + line * stride + 3 * static_cast<std::ptrdiff_t>(col);
              const ushort* bottom = top + stride;
              const auto load = [](const ushort* at) {
                return cv::v_cvt_f32(cv::v_reinterpret_as_s32(cv::v_load_expand(at)));
              };
              const cv::v_float32x4 part_x = cv::v_setall_f32(sx - static_cast<float>(col));
              const cv::v_float32x4 part_y = cv::v_setall_f32(sy - static_cast<float>(line));
              const cv::v_float32x4 t0 = load(top);
              const cv::v_float32x4 b0 = load(bottom);
              const cv::v_float32x4 t = t0 + part_x * (load(top + 3) - t0);
              const cv::v_float32x4 b = b0 + part_x * (load(bottom + 3) - b0);
              sum += t + part_y * (b - t);
            }
            const cv::v_int32x4 mean = cv::v_round(sum * cv::v_setall_f32(0.5F));
            StoreThree(cv::v_pack_u(mean, mean), x + 1 < in.cols, row[x]);
          }
        }
      },
      8);
}

}  // namespace

double BlurByMotion(const CameraIntrinsics& camera, const PatientState& opening,
                    const PatientState& middle, const PatientState& closing, cv::Mat& light) {
  if (std::min(opening.eye_mid_mm.z(), closing.eye_mid_mm.z()) < 10) return 0;
  // Two taps with the variance of an even smear: at 1/sqrt(3) of the way to either end.
  constexpr double kPart = 0.57735;
  double back_px = 0;
  double forth_px = 0;
  const cv::Matx23d back = FaceMotion(camera, middle, opening, kPart, &back_px);
  const cv::Matx23d forth = FaceMotion(camera, middle, closing, kPart, &forth_px);
  if (std::max(back_px, forth_px) < 1) return std::max(back_px, forth_px);
  cv::Mat smeared;
  MeanOfTwo(light, back, forth, smeared);
  light = smeared;
  return 0;
}

namespace {

// The sRGB code of light 0..kWhite, in 1/64 of an 8-bit step.
constexpr int kCodeSteps = 64;
const std::array<std::int16_t, kWhite + 1>& CodeTable() {
  static const auto kTable = [] {
    std::array<std::int16_t, kWhite + 1> table{};
    for (int i = 0; i <= kWhite; ++i) {
      table[static_cast<std::size_t>(i)] = static_cast<std::int16_t>(
          std::lround(255 * kCodeSteps * SrgbCode(static_cast<double>(i) / kWhite)));
    }
    return table;
  }();
  return kTable;
}

}  // namespace

void ExposureControl::Follow(const cv::Mat& light, double elapsed_s) {
  constexpr double kWanted = 118;
  constexpr double kLowest = 0.2;
  constexpr double kHighest = 16;
  constexpr double kTimeS = 0.35;
  const auto& code = CodeTable();
  double sum = 0;
  double weight = 0;
  for (int y = 4; y < light.rows; y += 9) {
    for (int x = 4; x < light.cols; x += 9) {
      const double u = 2.0 * x / light.cols - 1;
      const double v = 2.0 * y / light.rows - 1;
      const double w = std::exp(-2.5 * (u * u + v * v));
      const int green = std::min<int>(kWhite, light.at<cv::Vec3w>(y, x)[1]);
      sum += w * code[static_cast<std::size_t>(green)] / kCodeSteps;
      weight += w;
    }
  }
  const double ratio = SrgbLinear(kWanted / 255) / SrgbLinear(std::max(2.0, sum / weight) / 255);
  const double wanted = std::clamp(gain_ * ratio, kLowest, kHighest);
  gain_ *= std::pow(wanted / gain_, 1 - std::exp(-elapsed_s / kTimeS));
}

Sensor::Sensor(int width, std::uint64_t seed)
    : seed_(seed), noise_(192, 3 * (width + 256), CV_16S) {
  Random random(seed, 61);
  for (int y = 0; y < noise_.rows; ++y) {
    auto* row = noise_.ptr<std::int16_t>(y);
    double before[3] = {0, 0, 0};
    for (int x = 0; x < noise_.cols; x += 3) {
      const double shared = random.Normal();
      for (int k = 0; k < 3; ++k) {
        // Demosaicing ties the colours and the neighbours a little.
        const double own = 0.75 * shared + 0.6614 * random.Normal();
        const double value = 0.3 * before[k] + 0.9539 * own;
        before[k] = value;
        row[x + k] = cv::saturate_cast<std::int16_t>(4096 * value);
      }
    }
  }
}

double Sensor::NoiseDeviation(const Light& light, double gain) {
  return light.noise_sd * std::pow(std::max(1.0, gain), 0.6);
}

cv::Mat Sensor::Read(const cv::Mat& light, double noise_deviation, std::int64_t frame) const {
  const auto& code = CodeTable();
  cv::Mat bgr(light.size(), CV_8UC3);
  // 4096 times the noise, times 1024 times the deviation, is 2^16 times the value in 1/64 steps.
  const int scale = std::min(32767, static_cast<int>(std::lround(1024 * noise_deviation)));
  const cv::v_int16x8 factor = cv::v_setall_s16(static_cast<std::int16_t>(scale));
  const int count = 3 * light.cols;
  cv::parallel_for_(
      cv::Range(0, light.rows),
      [&](const cv::Range& range) {
        std::vector<std::int16_t> coded(static_cast<std::size_t>(count));
        for (int y = range.start; y < range.end; ++y) {
          Random random(seed_ ^ static_cast<std::uint64_t>(frame),
                        1000 + static_cast<std::uint64_t>(y));
          const std::uint64_t draw = random.Next();
          const auto* noise = noise_.ptr<std::int16_t>(static_cast<int>(
                                  draw % static_cast<std::uint64_t>(noise_.rows))) +
                              3 * static_cast<std::ptrdiff_t>((draw >> 32) % 256);
          const auto* in = light.ptr<ushort>(y);
          for (int x = 0; x < count; ++x) {
            coded[static_cast<std::size_t>(x)] = code[std::min<ushort>(in[x], kWhite)];
          }
          uchar* row = bgr.ptr<uchar>(y);
          int x = 0;
          for (; x + 16 <= count; x += 16) {
            const std::int16_t* c = coded.data() + x;
            // 16-bit sums saturate, and the shift rounds.
            const cv::v_int16x8 a = cv::v_load(c) + cv::v_mul_hi(cv::v_load(noise + x), factor);
            const cv::v_int16x8 b =
                cv::v_load(c + 8) + cv::v_mul_hi(cv::v_load(noise + x + 8), factor);
            cv::v_store(row + x, cv::v_rshr_pack_u<6>(a, b));
          }
          for (; x < count; ++x) {
            const int sum = coded[static_cast<std::size_t>(x)] + ((noise[x] * scale) >> 16);
            row[x] = cv::saturate_cast<uchar>((sum + kCodeSteps / 2) >> 6);
          }
        }
      },
      4);
  return bgr;
}

}  // namespace nearpoint::simulate
