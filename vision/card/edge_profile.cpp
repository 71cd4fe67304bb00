#include "vision/card/edge_profile.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <opencv2/imgproc.hpp>

namespace nearpoint {
namespace {

constexpr double kStepPx = 0.5;  // between the samples of a profile

// sRGB, IEC 61966-2-1.
double Decoded(double code) {
  return code <= 0.04045 ? code / 12.92 : std::pow((code + 0.055) / 1.055, 2.4);
}

const std::array<float, 256>& DecodeTable() {
  static const std::array<float, 256> table = [] {
    std::array<float, 256> t{};
    for (std::size_t i = 0; i < t.size(); ++i) {
      t[i] = static_cast<float>(Decoded(static_cast<double>(i) / 255));
    }
    return t;
  }();
  return table;
}

// Bilinear; outside the picture its rim goes on.
double At(const cv::Mat& linear, const Eigen::Vector2d& px) {
  const double x = std::clamp(px.x(), 0.0, linear.cols - 1.001);
  const double y = std::clamp(px.y(), 0.0, linear.rows - 1.001);
  const int x0 = static_cast<int>(x), y0 = static_cast<int>(y);
  const double fx = x - x0, fy = y - y0;
  const auto* row = linear.ptr<float>(y0);
  const auto* below = linear.ptr<float>(std::min(y0 + 1, linear.rows - 1));
  return (1 - fy) * ((1 - fx) * row[x0] + fx * row[x0 + 1]) +
         fy * ((1 - fx) * below[x0] + fx * below[x0 + 1]);
}

bool Inside(const cv::Mat& linear, const Eigen::Vector2d& px) {
  return px.x() >= 0 && px.y() >= 0 && px.x() <= linear.cols - 1 && px.y() <= linear.rows - 1;
}

// Along the edge: t from -1 to 1 between the places that are looked at; across: s in pixels.
struct Ruler {
  Eigen::Vector2d middle, along,
      across;  // along: half the length looked at; across: unit, to the left
  [[nodiscard]] Eigen::Vector2d At(double t, double s) const {
    return middle + along * t + across * s;
  }
};

struct Place {
  double t = 0;
  double s = 0;  // across, where the change of light is steepest
  double contrast = 0;
  bool used = false;
};

// The steepest change in the wanted sense; nullopt where the profile leaves the picture or is flat.
std::optional<Place> LookAcross(const cv::Mat& linear, const Ruler& ruler, double t,
                                const EdgeSearch& search) {
  const int half = static_cast<int>(std::lround(search.reach_px / kStepPx));
  if (!Inside(linear, ruler.At(t, -search.reach_px)) ||
      !Inside(linear, ruler.At(t, search.reach_px))) {
    return std::nullopt;
  }
  std::vector<double> light(static_cast<std::size_t>(2 * half + 1));
  for (int i = -half; i <= half; ++i) {
    light[static_cast<std::size_t>(i + half)] = At(linear, ruler.At(t, i * kStepPx));
  }
  constexpr int kBase = 2;  // steps to either side: a difference over two pixels
  double best = 0;
  int best_i = 0;
  for (int i = kBase; i + kBase < static_cast<int>(light.size()); ++i) {
    double slope =
        light[static_cast<std::size_t>(i + kBase)] - light[static_cast<std::size_t>(i - kBase)];
    if (search.brighter < 0) slope = -slope;
    if (search.brighter == 0) slope = std::abs(slope);
    if (slope > best) {
      best = slope;
      best_i = i;
    }
  }
  if (best <= search.least_contrast / 2 || best <= 0) return std::nullopt;
  return Place{t, (best_i - half) * kStepPx, best, true};
}

// s as a parabola of t by least squares over the used places; false if they do not determine it.
bool FitCurve(const std::vector<Place>& places, bool parabola, Eigen::Vector3d& curve) {
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
  Eigen::Vector3d rhs = Eigen::Vector3d::Zero();
  for (const Place& p : places) {
    if (!p.used) continue;
    const Eigen::Vector3d row(1, p.t, parabola ? p.t * p.t - 1.0 / 3 : 0);
    normal += row * row.transpose();
    rhs += row * p.s;
  }
  if (!parabola) normal(2, 2) = 1;
  if (normal.determinant() < 1e-6) return false;
  curve = normal.ldlt().solve(rhs);
  return true;
}

double On(const Eigen::Vector3d& curve, double t) {
  return curve.x() + curve.y() * t + curve.z() * (t * t - 1.0 / 3);
}

// The straight line that most places agree with, then a fit to those near it.
bool Agree(std::vector<Place>& places, Eigen::Vector3d& curve) {
  const std::size_t n = places.size();
  std::size_t most = 0;
  Eigen::Vector3d best = Eigen::Vector3d::Zero();
  constexpr double kNear = 1.2;  // px
  const std::size_t stride = std::max<std::size_t>(1, n / 12);
  for (std::size_t a = 0; a < n; a += stride) {
    for (std::size_t b = a + 1; b < n; b += stride) {
      const double span = places[b].t - places[a].t;
      if (span < 0.3) continue;
      const double slope = (places[b].s - places[a].s) / span;
      const Eigen::Vector3d line(places[a].s - slope * places[a].t, slope, 0);
      const auto near = static_cast<std::size_t>(std::ranges::count_if(places, [&](const Place& p) {
        return std::abs(p.s - line.x() - line.y() * p.t) < kNear;
      }));
      if (near > most) {
        most = near;
        best = line;
      }
    }
  }
  if (most < 4) return false;
  curve = best;
  for (int round = 0; round < 3; ++round) {
    for (Place& p : places) p.used = std::abs(p.s - On(curve, p.t)) < kNear;
    if (!FitCurve(places, round > 0 && n > 16, curve)) return false;
  }
  return true;
}

// Place of the edge in one profile about `s`, relative to it: the centroid of the change of light,
// as far as `contrast` is the whole change.
double Centroid(const cv::Mat& linear, const Ruler& ruler, double t, double s, double reach,
                double contrast, double* change) {
  const int half = static_cast<int>(std::floor(reach / kStepPx));
  double sum = 0, total = 0;
  double before = At(linear, ruler.At(t, s - half * kStepPx));
  for (int i = -half + 1; i <= half; ++i) {
    const double light = At(linear, ruler.At(t, s + i * kStepPx));
    sum += (light - before) * (i - 0.5) * kStepPx;
    total += light - before;
    before = light;
  }
  if (change != nullptr) *change = total;
  return contrast == 0 ? 0 : sum / contrast;
}

struct Stretch {
  double t = 0, s = 0, sd = 0, contrast = 0;
};

std::optional<Stretch> Average(const cv::Mat& linear, const Ruler& ruler,
                               const std::vector<Place>& places, std::size_t first,
                               std::size_t last, const Eigen::Vector3d& curve, double reach) {
  std::vector<double> t;
  for (std::size_t i = first; i < last; ++i) {
    if (places[i].used) t.push_back(places[i].t);
  }
  if (t.size() < 2 || t.size() * 2 < last - first) return std::nullopt;
  const double count = static_cast<double>(t.size());
  double shift = 0, contrast = 0;
  std::vector<double> each(t.size());
  for (int round = 0; round < 4; ++round) {
    contrast = 0;
    for (const double place : t) {
      double change = 0;
      Centroid(linear, ruler, place, On(curve, place) + shift, reach, 0, &change);
      contrast += change / count;
    }
    if (contrast == 0) return std::nullopt;
    double mean = 0;
    for (std::size_t i = 0; i < t.size(); ++i) {
      each[i] = Centroid(linear, ruler, t[i], On(curve, t[i]) + shift, reach, contrast, nullptr);
      mean += each[i] / count;
    }
    shift += std::clamp(mean, -1.0, 1.0);
    if (std::abs(shift) > 2) return std::nullopt;
    for (double& e : each) e -= mean;
    if (std::abs(mean) < 1e-3) break;
  }
  const double squares = std::inner_product(each.begin(), each.end(), each.begin(), 0.0);
  Stretch s;
  s.t = std::accumulate(t.begin(), t.end(), 0.0) / count;
  s.s = 0;
  for (const double place : t) s.s += (On(curve, place) + shift) / count;
  s.sd = std::sqrt(squares / (count - 1) / count);
  s.contrast = contrast;
  return s;
}

}  // namespace

cv::Mat LinearLight(const cv::Mat& picture) {
  const auto& table = DecodeTable();
  cv::Mat linear(picture.size(), CV_32F);
  for (int y = 0; y < picture.rows; ++y) {
    const auto* in = picture.ptr<std::uint8_t>(y);
    auto* out = linear.ptr<float>(y);
    if (picture.channels() == 1) {
      for (int x = 0; x < picture.cols; ++x) out[x] = table[in[x]];
    } else {
      // Weights of ITU-R BT.709.
      for (int x = 0; x < picture.cols; ++x, in += 3) {
        out[x] = 0.0722F * table[in[0]] + 0.7152F * table[in[1]] + 0.2126F * table[in[2]];
      }
    }
  }
  return linear;
}

std::optional<EdgeFix> FixEdge(const cv::Mat& linear, const EdgeSearch& search) {
  const Eigen::Vector2d whole = search.end_px - search.start_px;
  const double length = whole.norm() * (1 - 2 * search.leave_out);
  if (!(length >= 6) || linear.cols < 2 || linear.rows < 2) return std::nullopt;
  const Eigen::Vector2d direction = whole.normalized();
  const Ruler ruler{(search.start_px + search.end_px) / 2,
                    direction * length / 2,
                    {direction.y(), -direction.x()}};

  const auto count = static_cast<std::size_t>(std::lround(length)) + 1;
  std::vector<Place> places;
  for (std::size_t i = 0; i < count; ++i) {
    const double t = 2.0 * static_cast<double>(i) / static_cast<double>(count - 1) - 1;
    if (const auto place = LookAcross(linear, ruler, t, search)) places.push_back(*place);
  }
  if (places.size() * 2 < count) return std::nullopt;
  Eigen::Vector3d curve;
  if (!Agree(places, curve)) return std::nullopt;
  const auto used = static_cast<std::size_t>(std::ranges::count_if(places, &Place::used));
  if (used * 2 < count) return std::nullopt;

  EdgeFix fix;
  std::vector<Place> line;
  double contrast = 0;
  const auto parts = static_cast<std::size_t>(std::max(2, search.points));
  for (std::size_t part = 0; part < parts; ++part) {
    const auto s = Average(linear, ruler, places, part * places.size() / parts,
                           (part + 1) * places.size() / parts, curve, search.reach_px);
    if (!s) continue;
    if (std::abs(s->contrast) < search.least_contrast) continue;
    if (search.brighter != 0 && s->contrast * search.brighter < 0) continue;
    fix.points_px.push_back(ruler.At(s->t, s->s));
    // Neighbouring profiles share pixels, so the scatter says too little; nothing is better than
    // 0.01.
    fix.sd_px.push_back(std::hypot(1.3 * s->sd, 0.01));
    line.push_back({s->t, s->s, 0, true});
    contrast += std::abs(s->contrast);
  }
  if (line.size() < 2) return std::nullopt;
  Eigen::Vector3d straight;
  if (!FitCurve(line, false, straight)) return std::nullopt;
  fix.middle_px = ruler.At(0, straight.x());
  fix.direction =
      (ruler.At(1, straight.x() + straight.y()) - ruler.At(-1, straight.x() - straight.y()))
          .normalized();
  fix.contrast = contrast / static_cast<double>(line.size());
  fix.found = static_cast<double>(used) / static_cast<double>(count);
  return fix;
}

std::optional<Eigen::Vector2d> Meet(const EdgeFix& a, const EdgeFix& b) {
  const double cross = a.direction.x() * b.direction.y() - a.direction.y() * b.direction.x();
  if (std::abs(cross) < 0.05) return std::nullopt;
  const Eigen::Vector2d gap = b.middle_px - a.middle_px;
  const double along = (gap.x() * b.direction.y() - gap.y() * b.direction.x()) / cross;
  return a.middle_px + along * a.direction;
}

}  // namespace nearpoint
