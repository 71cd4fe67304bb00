#include "calibration/print_check.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <vector>

#include "calibration/lens.h"
#include "calibration/print_scale.h"

namespace nearpoint {
namespace {

constexpr double kCardWidthMm = 85.60, kCardHeightMm = 53.98, kCardThicknessMm = 0.76;
constexpr double kSteepestDeg = 25;
constexpr double kTolerance = 0.006;

struct Line {
  Eigen::Vector2d middle, direction;
  double scatter = 0;  // of the points about it
  double sd = 0;       // across, at the middle
};

// Where the sight of a pixel meets the plane at this height over the paper, in printed millimetres.
Eigen::Vector2d OnPlane(const Eigen::Vector2d& px, const CameraIntrinsics& camera,
                        const PlacedView& sheet, double over_paper_mm) {
  const Eigen::Vector2d n = DirectionOfPixel(camera, px);
  const Eigen::Matrix3d from_camera = sheet.camera_from_card.transpose();
  const Eigen::Vector3d origin = -from_camera * sheet.card_in_camera_mm;
  const Eigen::Vector3d way = from_camera * Eigen::Vector3d(n.x(), n.y(), 1);
  return (origin + way * ((-over_paper_mm - origin.z()) / way.z())).head<2>();
}

Line FitLine(const std::vector<Eigen::Vector2d>& points) {
  Line line;
  line.middle.setZero();
  const double n = static_cast<double>(points.size());
  for (const auto& p : points) line.middle += p / n;
  Eigen::Matrix2d spread = Eigen::Matrix2d::Zero();
  for (const auto& p : points) spread += (p - line.middle) * (p - line.middle).transpose() / n;
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> solver(spread);
  line.direction = solver.eigenvectors().col(1);
  line.scatter = std::sqrt(std::max(0.0, solver.eigenvalues()(0)));
  line.sd = line.scatter / std::sqrt(std::max(1.0, n - 2));
  return line;
}

double Sine(const Line& a, const Line& b) {
  return std::abs(a.direction.x() * b.direction.y() - a.direction.y() * b.direction.x());
}

// Between two nearly parallel lines, at the middle of the first's opposite.
double Apart(const Line& a, const Line& b) {
  const Eigen::Vector2d d =
      (a.direction + b.direction * (a.direction.dot(b.direction) < 0 ? -1.0 : 1.0)).normalized();
  const Eigen::Vector2d gap = b.middle - a.middle;
  return std::abs(gap.x() * d.y() - gap.y() * d.x());
}

}  // namespace

Result<PrintScale> MeasurePrint(const CardView& pattern, const CardView& real_card,
                                const CameraIntrinsics& camera) {
  const auto sheet = PlaceCard(pattern, camera);
  if (!sheet) {
    return Fail(ErrorCode::kInsufficient,
                "The pattern of the sheet cannot be placed in this picture.");
  }
  if (sheet->tilt_deg > kSteepestDeg) {
    return Fail(
        ErrorCode::kInsufficient,
        "The sheet is seen too much from the side; hold the camera over it, or the sheet square "
        "to the camera.");
  }
  std::array<std::vector<Eigen::Vector2d>, 4> points;
  for (const EdgePoint& point : real_card.edge_points) {
    if (point.edge < 0 || point.edge > 3) continue;
    points[static_cast<std::size_t>(point.edge)].push_back(
        OnPlane(point.image_px, camera, *sheet, kCardThicknessMm));
  }
  std::array<Line, 4> lines;
  for (std::size_t i = 0; i < 4; ++i) {
    if (points[i].size() < 4) {
      return Fail(ErrorCode::kInsufficient, "An edge of the real card is not to be seen.");
    }
    lines[i] = FitLine(points[i]);
  }
  // A rectangle in the plane of the paper, and straight: otherwise the card does not lie on it.
  constexpr double kSine = 0.02, kScatterMm = 0.35;
  const bool flat =
      Sine(lines[0], lines[2]) < kSine && Sine(lines[1], lines[3]) < kSine &&
      Sine(lines[0], lines[1]) > 1 - kSine * kSine &&
      std::ranges::all_of(lines, [](const Line& l) { return l.scatter < kScatterMm; });
  if (!flat) {
    return Fail(ErrorCode::kInsufficient,
                "The real card does not lie flat on the sheet beside the pattern.");
  }
  const double width = Apart(lines[1], lines[3]), height = Apart(lines[0], lines[2]);
  PrintScale scale;
  scale.width = kCardWidthMm / width;
  scale.height = kCardHeightMm / height;
  // The wall of the card in view (up to its thickness times the tilt, half of it as a deviation),
  // the edge itself, the card's own tolerance, and the height over the paper, which the print's own
  // scale and the focal length change a little.
  const double wall = 0.5 * kCardThicknessMm * std::sin(sheet->tilt_deg * 0.0174533) + 0.05;
  const double edges = std::hypot(lines[0].sd, lines[2].sd) + std::hypot(lines[1].sd, lines[3].sd);
  scale.sd = std::sqrt(std::pow(wall / kCardHeightMm, 2) + std::pow(edges / kCardHeightMm, 2) +
                       std::pow(0.0008, 2) + std::pow(0.0005, 2));
  return scale;
}

Result<PrintScale> PrintScaleFromRuler(double measured_mm) {
  if (!(measured_mm >= 50 && measured_mm <= 150)) {
    return Fail(ErrorCode::kBadValue,
                "The measured length of the 100 mm line must be given in millimetres, 50 to 150.");
  }
  return PrintScale{measured_mm / 100, measured_mm / 100, kRulerPrintSd};
}

std::string PrintMethod(const PrintScale& scale, PrintMeasure how) {
  char text[60];
  std::snprintf(text, sizeof text, "%s, %.1f %%",
                how == PrintMeasure::kRuler ? "ruler" : "beside a real card", 100 * scale.width);
  return text;
}

Result<void> CheckPrint(const PrintScale& scale) {
  if (scale.sd > 0.006) {
    return Fail(
        ErrorCode::kInsufficient,
        "The size of the print cannot be told well enough from this picture; bring sheet and "
        "card nearer and hold them square to the camera.");
  }
  const double off = std::max(std::abs(scale.width - 1), std::abs(scale.height - 1));
  if (off <= kTolerance) return {};
  char text[240];
  if (std::abs(scale.width - scale.height) < 0.01) {
    std::snprintf(text, sizeof text,
                  "The sheet is printed at %.1f %% of its size; print it again at 100 %% (\"actual "
                  "size\"), not fitted to the page.",
                  50 * (scale.width + scale.height));
  } else {
    std::snprintf(
        text, sizeof text,
        "The sheet is printed at %.1f %% of its width and %.1f %% of its height; print it again "
        "at 100 %% (\"actual size\"), not fitted to the page.",
        100 * scale.width, 100 * scale.height);
  }
  return Fail(ErrorCode::kMismatch, text);
}

std::optional<PrintAspect> MeanAspect(std::span<const PrintAspect> pictures) {
  double weights = 0, sum = 0, best = 1e9;
  for (const PrintAspect& one : pictures) {
    if (!(one.sd > 0)) continue;
    const double weight = 1 / (one.sd * one.sd);
    weights += weight;
    sum += weight * one.off;
    best = std::min(best, one.sd);
  }
  if (!(weights > 0)) return std::nullopt;
  return PrintAspect{sum / weights, std::max(1 / std::sqrt(weights), best / 2)};
}

Result<void> CheckAspect(const PrintAspect& aspect) {
  constexpr double kLargest = 0.015;
  if (std::abs(aspect.off) <= kLargest || std::abs(aspect.off) <= 4 * aspect.sd) return {};
  char text[260];
  std::snprintf(text, sizeof text,
                "The pattern has not the shape that it should have: its height is %.1f %% of what "
                "its width demands. It was printed stretched or is on a card of another shape; "
                "print the sheet again at 100 %%, not fitted to the page.",
                100 * (1 + aspect.off));
  return Fail(ErrorCode::kMismatch, text);
}

}  // namespace nearpoint
