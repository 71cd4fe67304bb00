#include "vision/eyes/limbus_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "vision/eyes/limbus_edge.h"
#include "vision/eyes/limbus_rays.h"
#include "vision/eyes/limbus_white.h"

namespace nearpoint {
namespace {

using namespace limbus;  // NOLINT: the inner parts of this file

// The size of a followed eye is known to this share of the search.
constexpr double kSizeSd = 0.4;

// An arc counts for no less than this, however much it scatters.
constexpr double kPoorArc = 0.4;

// The shift and growth of the circle whose rim collects the most outward brightening. A grid,
// coarse but global within the search range: a local search would stop at the pupil or at a lid.
struct Coarse {
  double dx = 0, dy = 0, dr = 0;  // in bins
  double score = 0;
};

Coarse SearchCoarse(const Unrolled& u, const std::array<Ray, kRays>& rays, double most_growth) {
  // A strong lash or highlight counts no more than a good limbus edge.
  std::vector<float> peaks;
  for (std::size_t r = 0; r < kRays; ++r) {
    if (u.known[r] > kBins / 2)
      peaks.push_back(*std::max_element(u.slope[r].begin(), u.slope[r].end()));
  }
  if (peaks.size() < kRaysPerArc / 2) return {};
  auto middle = peaks.begin() + static_cast<std::ptrdiff_t>(peaks.size() / 2);
  std::nth_element(peaks.begin(), middle, peaks.end());
  const float cap = std::max(*middle, 0.1F);
  std::array<std::array<float, kBins>, kRays> clipped{};
  for (std::size_t r = 0; r < kRays; ++r) {
    for (std::size_t b = 0; b < kBins; ++b)
      clipped[r][b] = std::clamp(u.slope[r][b], -cap / 2, cap);
  }
  Coarse best;
  constexpr int kMid = kBins / 2;
  const int growth = std::clamp(static_cast<int>(std::ceil(most_growth / u.step)), 1, kMid - 2);
  const int growth_step = growth > 6 ? 2 : 1;
  for (int dr = -growth; dr <= growth; dr += growth_step) {
    for (int dx = -kMid + 3; dx <= kMid - 3; dx += 2) {
      if (std::abs(dr) + std::abs(dx) > kMid - 1) continue;
      for (int dy = -8; dy <= 8; dy += 4) {
        double score = 0;
        for (std::size_t r = 0; r < kRays; ++r) {
          const int b = kMid + static_cast<int>(
                                   std::lround(dr + dx * rays[r].unit.x() + dy * rays[r].unit.y()));
          if (b >= 0 && b < u.known[r]) score += clipped[r][static_cast<std::size_t>(b)];
        }
        // The guess comes from a model that knows more than this patch: between equals, the nearer
        // wins.
        score *= 1 - 0.006 * (std::abs(dr) + std::abs(dx) + 0.5 * std::abs(dy));
        if (score > best.score)
          best = {static_cast<double>(dx), static_cast<double>(dy), static_cast<double>(dr), score};
      }
    }
  }
  return best;
}

// A third of an arc, or of what the lids leave of both.
std::size_t LeastEdges(std::size_t free_rays) {
  return std::clamp<std::size_t>(free_rays / 3, 6, kRaysPerArc / 3);
}

}  // namespace

std::optional<LimbusFit> FitLimbus(const cv::Mat& luma, const cv::Mat& bgr,
                                   const LimbusEllipse& guess, const LimbusOptions& options) {
  if (!(guess.semi_major_px > 3) || !(guess.semi_major_px < 4 * luma.cols)) return std::nullopt;
  const double reach = std::clamp(std::max(options.search, options.size_search) + 0.18, 0.2, 0.75);
  const auto patch = CutPatch(luma, -1, guess, 1.2 * reach + 0.1);
  if (!patch) return std::nullopt;
  constexpr double kFaintest = 1.2;
  const double min_contrast =
      options.min_contrast_in_noise > 0
          ? std::min(options.min_contrast,
                     std::max(kFaintest, options.min_contrast_in_noise * patch->noise))
          : options.min_contrast;
  const auto colours = CutColours(bgr, guess, 1.2 * reach + 0.1);
  const auto rays = MakeRays(guess, options.eye_line_rad);

  Eigen::Vector2d centre = patch->ToPatch(guess.centre_px);
  double radius = guess.semi_major_px / patch->scale;
  const double expected_radius = radius;
  Unrolled u = Unroll(*patch, rays, centre, radius, reach);
  const Coarse coarse = SearchCoarse(u, rays, options.size_search * radius);
  if (coarse.score <= 0) return std::nullopt;

  const double c = std::cos(guess.angle_rad), s = std::sin(guess.angle_rad);
  const auto move = [&](double dx, double dy, double dr) {
    const Eigen::Vector2d e(dx, dy * guess.aspect);
    centre += Eigen::Vector2d(c * e.x() - s * e.y(), s * e.x() + c * e.y());
    radius += dr;
  };
  move(coarse.dx * u.step, coarse.dy * u.step, coarse.dr * u.step);
  if (radius < 2) return std::nullopt;

  // Rays that meet the limbus beneath a lid tell of the lid.
  std::array<bool, kRays> free{};
  for (std::size_t r = 0; r < kRays; ++r) {
    constexpr double kWithin = 0.06;  // of the semi-major axis: the lids are known no better
    free[r] = options.lids == nullptr ||
              options.lids->Inside(guess.centre_px + guess.semi_major_px * rays[r].direction) >
                  -kWithin * guess.semi_major_px;
  }
  const auto free_rays = static_cast<std::size_t>(std::count(free.begin(), free.end(), true));

  std::vector<EdgePoint> edges;
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  double sigma = 0, overall = 0;
  constexpr int kPasses = 3;
  for (int pass = 0; pass < kPasses; ++pass) {
    // An eye of known size takes only edges near that circle: in strong convergence the nasal
    // limbus lies against the corner of the eye, and the nearest brightening there is the skin
    // beyond.
    const double window =
        radius * std::clamp(0.35 * options.size_search + (pass == 0 ? 0.04 : 0.02), 0.05, 0.16);
    u = Unroll(*patch, rays, centre, radius, 0.30);
    edges.clear();
    for (std::size_t r = 0; r < kRays; ++r) {
      if (!free[r]) continue;
      if (const auto e = FindEdge(u, r, radius, window, min_contrast)) edges.push_back(*e);
    }
    CorrectEdges(u, rays, radius * patch->scale, min_contrast, &edges);
    if (edges.size() < LeastEdges(free_rays)) return std::nullopt;
    if (colours) TrustWhite(*colours, centre, rays, WhiteIsWide(radius * patch->scale), &edges);
    std::vector<double> contrasts;
    contrasts.reserve(edges.size());
    for (const EdgePoint& e : edges) contrasts.push_back(e.contrast);
    const double typical = Median(contrasts);
    // Iteratively reweighted least squares on r_k = radius + dx cos + dy sin + dr, Tukey's
    // biweight.
    Eigen::Vector3d step = Eigen::Vector3d::Zero();
    for (int iteration = 0; iteration < 6; ++iteration) {
      std::vector<double> magnitude;
      for (const EdgePoint& e : edges) {
        const auto& unit = rays[e.ray].unit;
        magnitude.push_back(
            std::abs(e.radius - radius - step.x() * unit.x() - step.y() * unit.y() - step.z()));
      }
      // Each arc by its own scatter: where white is a sliver between iris and the corner of the
      // eye, or a reflection crosses the limbus, one arc is poor and the other as good as ever.
      std::array<std::vector<double>, 2> by_arc;
      for (std::size_t i = 0; i < edges.size(); ++i)
        by_arc[static_cast<std::size_t>(rays[edges[i].ray].arc)].push_back(magnitude[i]);
      std::array<double, 2> arc_sigma{};
      overall = sigma = std::max(1.4826 * Median(magnitude), 0.03);
      for (std::size_t arc = 0; arc < 2; ++arc) {
        arc_sigma[arc] = std::max(1.4826 * Median(by_arc[arc]), 0.03);
        if (by_arc[arc].size() < kRaysPerArc / 3) arc_sigma[arc] = std::max(arc_sigma[arc], sigma);
      }
      sigma = std::min({sigma, arc_sigma[0], arc_sigma[1]});
      normal.setZero();
      Eigen::Vector3d rhs = Eigen::Vector3d::Zero();
      for (std::size_t i = 0; i < edges.size(); ++i) {
        const double own = arc_sigma[static_cast<std::size_t>(rays[edges[i].ray].arc)];
        const double z = magnitude[i] / (4.0 * own);
        const double tukey = z < 1 ? (1 - z * z) * (1 - z * z) : 0;
        edges[i].belongs = edges[i].trust * tukey * std::min(1.0, edges[i].contrast / typical);
        edges[i].weight = edges[i].belongs * std::max(kPoorArc, sigma / own);
        const Eigen::Vector3d row(rays[edges[i].ray].unit.x(), rays[edges[i].ray].unit.y(), 1);
        normal += edges[i].weight * row * row.transpose();
        rhs += edges[i].weight * row * (edges[i].radius - radius);
      }
      // Weak pulls that only matter where the arcs say nothing: one arc alone, or no height
      // information.
      normal(0, 0) += 1e-3;
      normal(1, 1) += 0.02;
      normal(2, 2) += 1e-3;
      // The size that was expected, as loosely as it is known; not in the covariance, for whoever
      // expects it counts it too.
      Eigen::Matrix3d pulled = normal;
      const double loose = kSizeSd * options.size_search * expected_radius;
      const double pull = options.size_search < 0.1 ? sigma * sigma / (loose * loose) : 0;
      pulled(2, 2) += pull;
      rhs(2) += pull * (expected_radius - radius);
      step = pulled.ldlt().solve(rhs);
    }
    move(step.x(), step.y(), step.z());
    if (radius < 2 || !std::isfinite(radius)) return std::nullopt;
  }

  if (std::abs(radius * patch->scale / guess.semi_major_px - 1) > 1.2 * options.size_search + 0.02)
    return std::nullopt;

  LimbusFit fit;
  std::vector<double> contrasts, widths;
  double weight_sum = 0;
  Eigen::Vector3d wider = Eigen::Vector3d::Zero();
  const Eigen::Vector2d eye_line(std::cos(options.eye_line_rad - guess.angle_rad),
                                 std::sin(options.eye_line_rad - guess.angle_rad));
  for (const EdgePoint& e : edges) {
    if (e.belongs < 0.25) continue;
    (rays[e.ray].arc == 0 ? fit.left_points : fit.right_points) += 1;
    contrasts.push_back(e.contrast);
    widths.push_back(e.blur);
    weight_sum += e.weight;
    const Eigen::Vector2d& unit = rays[e.ray].unit;
    const double along = unit.dot(eye_line);
    wider += e.weight * along * along * Eigen::Vector3d(unit.x(), unit.y(), 1);
  }
  if (fit.left_points + fit.right_points < static_cast<int>(LeastEdges(free_rays)))
    return std::nullopt;
  // Blur moves the edge of a disc inwards by variance over twice the radius: there is less light
  // outside a convex edge.
  const double width = Median(widths);
  radius += width * width / (2 * radius);
  fit.ellipse = guess;
  fit.ellipse.centre_px = patch->origin + centre * patch->scale;
  fit.ellipse.semi_major_px = radius * patch->scale;
  fit.contrast = Median(contrasts);
  fit.blur_px = width * patch->scale;
  fit.residual_px = overall * patch->scale;
  // Neighbouring rays see the same pixels and the same texture: count one independent point for two
  // patch pixels of arc, so that the deviation does not shrink with the number of rays.
  const double arc_pixels = radius * (kUpper + kLower) * std::numbers::pi / 180;
  const double independent = std::min(1.0, arc_pixels / 2.0 / kRaysPerArc);
  // Lids, lashes and texture push whole stretches of the edge the same way; a stretch is about an
  // eighth of both arcs.
  constexpr double kStretchSd = 0.003;  // of the radius
  constexpr double kRaysPerStretch = kRays / 8.0;
  const double stretch = kStretchSd * radius;
  const double scale2 = patch->scale * patch->scale;
  const Eigen::Matrix3d covariance =
      normal.inverse() * (sigma * sigma / independent + kRaysPerStretch * stretch * stretch) *
      scale2;
  // From the axes of the ellipse to the axes of the picture.
  Eigen::Matrix3d turn = Eigen::Matrix3d::Identity();
  turn(0, 0) = c;
  turn(0, 1) = -s * guess.aspect;
  turn(1, 0) = s;
  turn(1, 1) = c * guess.aspect;
  fit.covariance_px2 = turn * covariance * turn.transpose();
  fit.per_log_width = turn * normal.ldlt().solve(wider) * fit.ellipse.semi_major_px;
  return fit;
}

}  // namespace nearpoint
