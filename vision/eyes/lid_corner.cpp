#include "vision/eyes/lid_corner.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <fstream>
#include <iterator>
#include <utility>

namespace nearpoint {
namespace {

// Half of the usual visible iris of 11.7 mm (Rüfer et al., Cornea 2005).
constexpr double kIrisRadiusMm = 5.85;
constexpr double kEyeWidthMm = 27;  // a unit only: what was learned is in it
// Below, a corner is a matter of one pixel.
constexpr double kLeastPxPerMm = 1.2;
// Sensor noise and eight bits: what is darker has no colour to speak of.
constexpr float kDarkest = 0.006F;
constexpr float kLeastSpread = 0.04F;  // of log light: flat skin is not blown up to a pattern
constexpr double kFarthestMm = 4;      // from the guess
constexpr double kStartsMm = 0.8;      // how far beside the guess the other starts lie
constexpr double kLargestSpreadMm = 0.6;
constexpr double kFloorSdMm = 0.15;
constexpr double kLargestWidthStepMm = 1.5;
constexpr std::string_view kMagic = "nearpoint lid corners 2\n";

const std::array<float, 256>& LinearLight() {
  static const std::array<float, 256> table = [] {
    std::array<float, 256> t{};
    for (int i = 0; i < 256; ++i) {
      const double v = i / 255.0;
      t[static_cast<std::size_t>(i)] =
          static_cast<float>(v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4));
    }
    return t;
  }();
  return table;
}

// Light at a place, bilinear. The place lies inside.
Eigen::Vector3f LightAt(const cv::Mat& bgr, double px, double py) {
  const int x = static_cast<int>(px);
  const int y = static_cast<int>(py);
  const auto a = static_cast<float>(px - x);
  const auto b = static_cast<float>(py - y);
  const auto& table = LinearLight();
  const cv::Vec3b* top = bgr.ptr<cv::Vec3b>(y) + x;
  const cv::Vec3b* bottom = bgr.ptr<cv::Vec3b>(y + 1) + x;
  Eigen::Vector3f out;
  for (int k = 0; k < 3; ++k) {
    out(k) = (table[top[0][k]] * (1 - a) + table[top[1][k]] * a) * (1 - b) +
             (table[bottom[0][k]] * (1 - a) + table[bottom[1][k]] * a) * b;
  }
  return out;
}

// Less its mean and over its spread.
template <typename Derived>
void Normalise(Eigen::MatrixBase<Derived>& values) {
  values.array() -= values.mean();
  const float spread = std::sqrt(values.squaredNorm() / static_cast<float>(values.size()));
  values /= spread + kLeastSpread;
}

}  // namespace

LidCornerFrame FrameOfCorner(const Eigen::Vector2d& corner_px, const Eigen::Vector2d& other_px,
                             double iris_radius_px) {
  LidCornerFrame frame;
  frame.outward = (corner_px - other_px).normalized();
  frame.down = Eigen::Vector2d(-frame.outward.y(), frame.outward.x());
  if (frame.down.y() < 0) frame.down = -frame.down;
  frame.px_per_mm = iris_radius_px / kIrisRadiusMm;
  return frame;
}

LidCornerFrame FrameByWidth(const Eigen::Vector2d& corner_px, const Eigen::Vector2d& other_px) {
  return FrameOfCorner(corner_px, other_px,
                       (corner_px - other_px).norm() / kEyeWidthMm * kIrisRadiusMm);
}

std::optional<LidCornerFeatures> LookAtCorner(const cv::Mat& bgr, const Eigen::Vector2d& at_px,
                                              const LidCornerFrame& frame) {
  using Grid = LidCornerGrid;
  Eigen::Matrix<float, Grid::kPoints, 1> light;
  Eigen::Matrix<float, Grid::kPoints, 1> colour;
  constexpr double kQuarter = Grid::kStepMm / 4;
  int point = 0;
  for (int row = 0; row < Grid::kRows; ++row) {
    for (int col = 0; col < Grid::kCols; ++col, ++point) {
      const double x = Grid::kFirstXMm + col * Grid::kStepMm;
      const double y = Grid::kFirstYMm + row * Grid::kStepMm;
      Eigen::Vector3f sum = Eigen::Vector3f::Zero();
      for (const double dx : {-kQuarter, kQuarter}) {
        for (const double dy : {-kQuarter, kQuarter}) {
          const Eigen::Vector2d p =
              at_px + frame.px_per_mm * ((x + dx) * frame.outward + (y + dy) * frame.down);
          if (!(p.x() >= 0 && p.y() >= 0 && p.x() < bgr.cols - 1 && p.y() < bgr.rows - 1)) {
            return std::nullopt;
          }
          sum += LightAt(bgr, p.x(), p.y()) / 4;
        }
      }
      const Eigen::Vector3f log_light = (sum.array() + kDarkest).log();
      light(point) = log_light.mean();
      colour(point) = log_light(2) - (log_light(0) + log_light(1)) / 2;
    }
  }
  Normalise(light);
  Normalise(colour);
  LidCornerFeatures features;
  features.head<Grid::kPoints>() = light;
  features.segment<Grid::kPoints>(Grid::kPoints) = colour;
  point = 0;
  for (int row = 0; row < Grid::kRows; ++row) {
    for (int col = 0; col < Grid::kCols; ++col, ++point) {
      const auto at = [&](int r, int c) {
        return light(std::clamp(r, 0, Grid::kRows - 1) * Grid::kCols +
                     std::clamp(c, 0, Grid::kCols - 1));
      };
      features(2 * Grid::kPoints + point) =
          std::hypot(at(row, col + 1) - at(row, col - 1), at(row + 1, col) - at(row - 1, col));
    }
  }
  features(Grid::kFeatures - 1) = 1;
  return features;
}

std::optional<LidCorner> LidCornerFinder::Find(const cv::Mat& bgr, LidCornerKind kind,
                                               const Eigen::Vector2d& guess_px,
                                               const Eigen::Vector2d& other_px,
                                               double iris_radius_px) const {
  if (bgr.type() != CV_8UC3) return std::nullopt;
  const LidCornerFrame frame = FrameOfCorner(guess_px, other_px, iris_radius_px);
  if (!(frame.px_per_mm > kLeastPxPerMm) || !(frame.outward.norm() > 0.5)) return std::nullopt;
  const std::array<Eigen::Vector2d, 5> starts{
      Eigen::Vector2d(0, 0), Eigen::Vector2d(kStartsMm, 0), Eigen::Vector2d(-kStartsMm, 0),
      Eigen::Vector2d(0, kStartsMm), Eigen::Vector2d(0, -kStartsMm)};
  std::array<Eigen::Vector2d, starts.size()> ends;
  Eigen::Vector2d mean = Eigen::Vector2d::Zero();
  for (std::size_t i = 0; i < starts.size(); ++i) {
    Eigen::Vector2d mm = starts[i];
    for (const LidCornerStep& step : model_.steps[static_cast<std::size_t>(kind)]) {
      const Eigen::Vector2d at =
          guess_px + frame.px_per_mm * (mm.x() * frame.outward + mm.y() * frame.down);
      const auto features = LookAtCorner(bgr, at, frame);
      if (!features) return std::nullopt;
      mm += (step * *features).cast<double>();
      if (!(mm.norm() < kFarthestMm)) return std::nullopt;
    }
    ends[i] = mm;
    mean += mm / static_cast<double>(starts.size());
  }
  double squares = 0;
  for (const Eigen::Vector2d& end : ends) squares += (end - mean).squaredNorm();
  const double spread = std::sqrt(squares / (2.0 * static_cast<double>(starts.size() - 1)));
  if (spread > kLargestSpreadMm) return std::nullopt;
  LidCorner corner;
  corner.position_px =
      guess_px + frame.px_per_mm * (mean.x() * frame.outward + mean.y() * frame.down);
  corner.sd_px = std::hypot(spread, kFloorSdMm) * frame.px_per_mm;
  return corner;
}

std::array<std::optional<LidCorner>, kLidCornerKinds> LidCornerFinder::FindBoth(
    const cv::Mat& bgr, const std::array<Eigen::Vector2d, kLidCornerKinds>& guesses_px,
    double iris_radius_px) const {
  std::array<std::optional<LidCorner>, kLidCornerKinds> found{
      Find(bgr, LidCornerKind::kOuter, guesses_px[0], guesses_px[1], iris_radius_px),
      Find(bgr, LidCornerKind::kInner, guesses_px[1], guesses_px[0], iris_radius_px)};
  if (!found[0] || !found[1]) return found;
  std::array<Eigen::Vector2d, kLidCornerKinds> at{found[0]->position_px, found[1]->position_px};
  for (std::size_t i = 0; i < kLidWidthSteps; ++i) {
    const std::array<Eigen::Vector2d, kLidCornerKinds> before = at;
    for (std::size_t kind = 0; kind < kLidCornerKinds; ++kind) {
      const LidCornerFrame frame = FrameByWidth(before[kind], before[1 - kind]);
      const auto features = LookAtCorner(bgr, before[kind], frame);
      if (!features) return {};
      const Eigen::Vector2d mm = (model_.width_steps[kind][i] * *features).cast<double>();
      if (!(mm.norm() < kLargestWidthStepMm)) return {};
      at[kind] += frame.px_per_mm * (mm.x() * frame.outward + mm.y() * frame.down);
    }
  }
  for (std::size_t kind = 0; kind < kLidCornerKinds; ++kind) found[kind]->position_px = at[kind];
  return found;
}

std::string SerializeLidCorners(const LidCornerModel& model) {
  std::string bytes(kMagic);
  const auto append = [&](const auto& kinds) {
    for (const auto& kind : kinds) {
      for (const LidCornerStep& step : kind) {
        const auto* const from = reinterpret_cast<const char*>(step.data());
        bytes.append(from, sizeof(float) * static_cast<std::size_t>(step.size()));
      }
    }
  };
  append(model.steps);
  append(model.width_steps);
  return bytes;
}

Result<LidCornerFinder> LidCornerFinder::Load(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in) {
    return Fail(ErrorCode::kNotFound,
                "The lid corner model '" + file +
                    "' is not there: it belongs to the program, install it again.");
  }
  const std::string bytes((std::istreambuf_iterator<char>(in)), {});
  LidCornerModel model;
  constexpr std::size_t kStepBytes = sizeof(float) * 2 * LidCornerGrid::kFeatures;
  constexpr std::size_t kSteps = kLidCornerKinds * (kLidCornerSteps + kLidWidthSteps);
  bool whole = bytes.size() == kMagic.size() + kStepBytes * kSteps &&
               bytes.compare(0, kMagic.size(), kMagic) == 0;
  if (whole) {
    const char* at = bytes.data() + kMagic.size();
    const auto read = [&](auto& kinds) {
      for (auto& kind : kinds) {
        for (LidCornerStep& step : kind) {
          std::memcpy(step.data(), at, kStepBytes);
          at += kStepBytes;
          whole = whole && step.allFinite();
        }
      }
    };
    read(model.steps);
    read(model.width_steps);
  }
  if (!whole) {
    return Fail(ErrorCode::kUnreadable,
                "The lid corner model '" + file +
                    "' is not a file of this version: install the program again.");
  }
  return LidCornerFinder(std::move(model));
}

}  // namespace nearpoint
