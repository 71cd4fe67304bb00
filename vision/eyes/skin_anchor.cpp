#include "vision/eyes/skin_anchor.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace nearpoint {
namespace {

// A part of a picture, reduced to about the resolution of a patch so that nothing aliases.
struct Reduced {
  cv::Mat grey;
  double factor = 1;          // picture pixels per pixel of `grey`
  Eigen::Vector2d origin_px;  // centre of its first pixel in the picture
};

// What a patch at `centre` and within `spare` patch pixels of it needs; empty outside the picture.
Reduced ReduceAround(const cv::Mat& grey, const Eigen::Vector2d& centre, double scale,
                     double roll_rad, double spare) {
  const double c = std::abs(std::cos(roll_rad)), s = std::abs(std::sin(roll_rad));
  const double reach_x = scale * ((c * kPatchWidth + s * kPatchHeight) / 2 + spare) + 4;
  const double reach_y = scale * ((s * kPatchWidth + c * kPatchHeight) / 2 + spare) + 4;
  cv::Rect region =
      cv::Rect(static_cast<int>(std::floor(centre.x() - reach_x)),
               static_cast<int>(std::floor(centre.y() - reach_y)),
               static_cast<int>(std::ceil(2 * reach_x)), static_cast<int>(std::ceil(2 * reach_y))) &
      cv::Rect(0, 0, grey.cols, grey.rows);
  if (region.width < 8 || region.height < 8) return {};
  const int factor = std::max(1, static_cast<int>(std::floor(scale)));
  region.width -= region.width % factor;
  region.height -= region.height % factor;
  if (region.width < factor || region.height < factor) return {};
  Reduced out;
  out.factor = factor;
  out.origin_px = {region.x + (factor - 1) / 2.0, region.y + (factor - 1) / 2.0};
  if (factor == 1) {
    out.grey = grey(region);
  } else {
    cv::resize(grey(region), out.grey, cv::Size(region.width / factor, region.height / factor), 0,
               0, cv::INTER_AREA);
  }
  return out;
}

// The patch around `centre`, turned back by `roll`: p = centre + R (q - middle) * scale.
cv::Mat Sample(const Reduced& reduced, const Eigen::Vector2d& centre, double scale,
               double roll_rad) {
  const double c = scale / reduced.factor * std::cos(roll_rad);
  const double s = scale / reduced.factor * std::sin(roll_rad);
  const double mx = (kPatchWidth - 1) / 2.0, my = (kPatchHeight - 1) / 2.0;
  const Eigen::Vector2d middle = (centre - reduced.origin_px) / reduced.factor;
  const cv::Mat map = (cv::Mat_<double>(2, 3) << c, -s, middle.x() - c * mx + s * my, s, c,
                       middle.y() - s * mx - c * my);
  cv::Mat out;
  cv::warpAffine(reduced.grey, out, map, cv::Size(kPatchWidth, kPatchHeight),
                 cv::INTER_LINEAR | cv::WARP_INVERSE_MAP, cv::BORDER_REPLICATE);
  out.convertTo(out, CV_32F);
  cv::GaussianBlur(out, out, cv::Size(5, 5), 1.2);
  return out;
}

bool MostlyInside(const cv::Mat& grey, const Eigen::Vector2d& centre, double scale) {
  const double half_w = 0.45 * kPatchWidth * scale, half_h = 0.45 * kPatchHeight * scale;
  return centre.x() - half_w >= 0 && centre.y() - half_h >= 0 && centre.x() + half_w < grey.cols &&
         centre.y() + half_h < grey.rows;
}

// Light changes over the approach: compare patterns of equal mean and spread, without the slow
// shading.
cv::Mat Pattern(const cv::Mat& patch) {
  constexpr int kShading = 35;  // patch pixels: as wide as a Gaussian of 10
  cv::Mat slow, out;
  cv::blur(patch, slow, cv::Size(kShading, kShading));
  out = patch - slow;
  const double norm = cv::norm(out) / std::sqrt(static_cast<double>(out.total()));
  return norm > 1e-6 ? cv::Mat(out / norm) : out;
}

}  // namespace

std::optional<SkinPatch> CutSkinPatch(const cv::Mat& grey, const Eigen::Vector2d& centre_px,
                                      double width_px) {
  SkinPatch patch;
  patch.scale = width_px / kPatchWidth;
  patch.centre_px = centre_px;
  if (!(patch.scale > 0.2) || !MostlyInside(grey, centre_px, patch.scale)) return std::nullopt;
  const Reduced reduced = ReduceAround(grey, centre_px, patch.scale, 0, 0);
  if (reduced.grey.empty()) return std::nullopt;
  patch.pattern = Pattern(Sample(reduced, centre_px, patch.scale, 0));
  return patch;
}

std::optional<PatchPosition> FindSkinPatch(const cv::Mat& grey, const SkinPatch& key,
                                           const Eigen::Vector2d& expected_px, double enlargement,
                                           double roll_rad) {
  const double scale = key.scale * enlargement;
  constexpr double kStray = 0.25 * kPatchWidth;  // patch pixels
  const Reduced reduced = ReduceAround(grey, expected_px, scale, roll_rad, kStray);
  if (reduced.grey.empty()) return std::nullopt;
  Eigen::Vector2d centre = expected_px;
  PatchPosition out;
  for (int iteration = 0; iteration < 6; ++iteration) {
    if (!MostlyInside(grey, centre, scale)) return std::nullopt;
    const cv::Mat now = Pattern(Sample(reduced, centre, scale, roll_rad));
    // Gauss-Newton on the translation; borders are left out, where the smoothing has no neighbours.
    Eigen::Matrix2d normal = Eigen::Matrix2d::Zero();
    Eigen::Vector2d rhs = Eigen::Vector2d::Zero();
    double squares = 0, like = 0;
    int count = 0;
    constexpr int kBorder = 3;
    for (int y = kBorder; y < kPatchHeight - kBorder; ++y) {
      const float* row = now.ptr<float>(y);
      const float* up = now.ptr<float>(y - 1);
      const float* down = now.ptr<float>(y + 1);
      const float* want = key.pattern.ptr<float>(y);
      for (int x = kBorder; x < kPatchWidth - kBorder; ++x) {
        const double gx = (row[x + 1] - row[x - 1]) / 2.0, gy = (down[x] - up[x]) / 2.0;
        const double e = want[x] - row[x];
        normal(0, 0) += gx * gx;
        normal(0, 1) += gx * gy;
        normal(1, 1) += gy * gy;
        rhs += Eigen::Vector2d(gx * e, gy * e);
        squares += e * e;
        like += static_cast<double>(want[x]) * row[x];
        ++count;
      }
    }
    normal(1, 0) = normal(0, 1);
    if (!(normal.determinant() > 1e-6 * normal.trace() * normal.trace()) || !(normal.trace() > 0))
      return std::nullopt;
    Eigen::Vector2d step = normal.inverse() * rhs;
    const double limit = 3;
    if (step.norm() > limit) step *= limit / step.norm();
    // Neighbouring pixels are not independent after the smoothing: about one in nine is.
    const Eigen::Matrix2d covariance = normal.inverse() * (squares / count) * 9;
    out.sd_px = scale * covariance.diagonal().cwiseSqrt();
    out.likeness = like / count;
    const double c = std::cos(roll_rad), s = std::sin(roll_rad);
    centre += scale * Eigen::Vector2d(c * step.x() - s * step.y(), s * step.x() + c * step.y());
    if (step.norm() < 0.02) break;
  }
  if ((centre - expected_px).norm() > kStray * scale || out.likeness < 0.5) return std::nullopt;
  out.centre_px = centre;
  return out;
}

}  // namespace nearpoint
