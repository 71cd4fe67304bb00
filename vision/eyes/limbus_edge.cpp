#include "vision/eyes/limbus_edge.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace nearpoint::limbus {
namespace {

constexpr double kSlopeFloor = 0.35;  // of the peak slope: what is less belongs to other structure
// Variance of a Gaussian cut off where it falls below kSlopeFloor of its peak, over its full
// variance.
constexpr double kCutVariance = 0.5255;
// Pixels: beside a smaller iris the two edges of a sliver cannot be told apart.
constexpr double kSliverTells = 30;

// The rise about bin `peak` of one ray, as far as it is steeper than kSlopeFloor of its peak:
// centre of mass of the slope. For a symmetric transition that is its 50 % point whatever the blur.
std::optional<EdgePoint> MeasureRise(const std::array<float, kBins>& slope, int known, int peak,
                                     double min_contrast) {
  const auto at = [&](int b) { return slope[static_cast<std::size_t>(b)]; };
  const float floor_slope = at(peak) * static_cast<float>(kSlopeFloor);
  if (floor_slope <= 0) return std::nullopt;
  int first = peak, last = peak;
  while (first - 1 >= 1 && at(first - 1) > floor_slope) --first;
  while (last + 1 <= known - 2 && at(last + 1) > floor_slope) ++last;
  double mass = 0, moment = 0, square = 0;
  for (int b = first; b <= last; ++b) {
    const double m = at(b);
    mass += m;
    moment += m * b;
    square += m * b * b;
  }
  if (mass < min_contrast) return std::nullopt;
  EdgePoint e;
  e.bin = moment / mass;
  e.width = std::sqrt(std::max(square / mass - e.bin * e.bin, 0.05) / kCutVariance);
  e.contrast = mass;
  e.peak = peak;
  return e;
}

// A Gaussian step of unit height at `centre`, as a slope at bin b.
double StepSlope(double b, double centre, double width) {
  const double z = (b - centre) / width;
  return std::exp(-z * z / 2) / (width * std::sqrt(2 * std::numbers::pi));
}

// In strong convergence, and beside a small iris, the white is a sliver: its far edge falls off
// before the blurred limbus has risen, takes away the outer half of the rise and draws the edge
// inward. Both edges are blurred alike, by `width` bins as where the white is broad: what one takes
// from the other is put back in turns.
void PartSliver(const Unrolled& u, double width, double min_contrast, EdgePoint* e) {
  constexpr double kWithin = 5;       // widths
  constexpr double kNotable = 0.2;    // of the rise's steepest slope
  constexpr double kCutMass = 0.853;  // of a Gaussian above kSlopeFloor of its peak
  const auto& slope = u.slope[e->ray];
  const int last = std::min(u.known[e->ray] - 2, static_cast<int>(e->bin + kWithin * width));
  int steepest = -1;
  for (int b = e->peak + 1; b <= last; ++b) {
    const float fall = -slope[static_cast<std::size_t>(b)];
    if (fall > kNotable * slope[static_cast<std::size_t>(e->peak)] &&
        (steepest < 0 || fall > -slope[static_cast<std::size_t>(steepest)])) {
      steepest = b;
    }
  }
  if (steepest < 0) return;
  std::array<float, kBins> rise = slope, fall{};
  EdgePoint limbus = *e;
  for (int turn = 0; turn < 3; ++turn) {
    for (int b = 1; b + 1 < u.known[e->ray]; ++b) {
      const auto k = static_cast<std::size_t>(b);
      fall[k] = static_cast<float>(limbus.contrast / kCutMass * StepSlope(b, limbus.bin, width)) -
                slope[k];
    }
    const auto end = MeasureRise(fall, u.known[e->ray], steepest, 0);
    if (!end) return;
    for (int b = 1; b + 1 < u.known[e->ray]; ++b) {
      const auto k = static_cast<std::size_t>(b);
      rise[k] =
          slope[k] + static_cast<float>(end->contrast / kCutMass * StepSlope(b, end->bin, width));
    }
    const auto better = MeasureRise(rise, u.known[e->ray], e->peak, min_contrast);
    if (!better || better->bin > end->bin) return;
    limbus.bin = better->bin;
    limbus.width = better->width;
    limbus.contrast = better->contrast;
  }
  e->bin = limbus.bin;
  e->width = limbus.width;
  e->contrast = limbus.contrast;
  e->sliver = true;
}

// Width of the transition on the arc where it is clearest, bins.
double TypicalWidth(const std::array<Ray, kRays>& rays, const std::vector<EdgePoint>& edges) {
  std::array<double, 2> strength{};
  std::array<std::vector<double>, 2> widths;
  for (const EdgePoint& e : edges) {
    const auto arc = static_cast<std::size_t>(rays[e.ray].arc);
    strength[arc] += e.contrast;
    widths[arc].push_back(e.width);
  }
  return Median(widths[strength[1] > strength[0] ? 1 : 0]);
}

// Where the ground on either side of the limbus is looked at, in widths of the transition: clear of
// it.
constexpr double kGroundFrom = 2.2, kGroundTo = 4.0;

// How brightness runs on one side of the limbus: median slope of one arc's rays per bin and unit of
// the ray's contrast. side: +1 the white, which darkens toward the corners of the eye and in the
// shade of the lids; -1 the iris, whose rim is often darker than the rest. 0 where too few rays
// tell.
double GroundSlope(const Unrolled& u, const std::array<Ray, kRays>& rays,
                   const std::vector<EdgePoint>& edges, int arc, int side) {
  std::vector<double> slopes;
  for (const EdgePoint& e : edges) {
    const double near = e.bin + side * kGroundFrom * e.width;
    const double far = e.bin + side * kGroundTo * e.width;
    const int lo = static_cast<int>(std::lround(std::min(near, far)));
    const int hi = static_cast<int>(std::lround(std::max(near, far)));
    if (side > 0 && e.sliver) continue;
    if (rays[e.ray].arc != arc || lo < 1 || hi > u.known[e.ray] - 2 || hi - lo < 2) continue;
    double sum = 0;
    for (int k = lo; k <= hi; ++k) sum += u.slope[e.ray][static_cast<std::size_t>(k)];
    slopes.push_back(sum / (hi - lo + 1) / e.contrast);
  }
  return slopes.size() < kRaysPerArc / 4 ? 0 : Median(slopes);
}

// Where the edge would be if iris and white were even. Brightness that falls off beyond a blurred
// edge takes from the outer half of its slope, and the edge seems to lie farther in; a rim of the
// iris that darkens toward the edge takes from the inner half, and it seems to lie farther out. The
// white's darkening grows from nothing at the limbus to what was measured some widths beyond; the
// rim's goes on to the limbus and ends there, blurred like it.
void LeaveOutShading(const Unrolled& u, double white_slope, double iris_slope, double min_contrast,
                     EdgePoint* e) {
  std::array<float, kBins> slope = u.slope[e->ray];
  for (int b = 1; b + 1 < u.known[e->ray]; ++b) {
    const double widths = (b - e->bin) / e->width;
    const double beyond = std::max(0.0, widths) / ((kGroundFrom + kGroundTo) / 2);
    const double inside = 1 / (1 + std::exp(1.702 * widths));  // close to the normal integral
    slope[static_cast<std::size_t>(b)] -=
        static_cast<float>(e->contrast * (white_slope * beyond + iris_slope * inside));
  }
  if (const auto better = MeasureRise(slope, u.known[e->ray], e->peak, min_contrast)) {
    e->bin = better->bin;
    e->width = better->width;
    e->contrast = better->contrast;
  }
}

}  // namespace

double Median(std::vector<double> v) {
  if (v.empty()) return 0;
  auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

std::optional<EdgePoint> FindEdge(const Unrolled& u, std::size_t r, double expected, double window,
                                  double min_contrast) {
  const double at = (expected - u.first) / u.step;
  const int half = std::max(3, static_cast<int>(std::lround(window / u.step)));
  const int lo = std::max(1, static_cast<int>(std::lround(at)) - half);
  const int hi = std::min(u.known[r] - 2, static_cast<int>(std::lround(at)) + half);
  if (hi - lo < 4) return std::nullopt;
  const auto& s = u.slope[r];
  int peak = lo;
  for (int b = lo; b <= hi; ++b) {
    if (s[static_cast<std::size_t>(b)] > s[static_cast<std::size_t>(peak)]) peak = b;
  }
  if (peak == lo || peak == hi) return std::nullopt;
  auto e = MeasureRise(s, u.known[r], peak, min_contrast);
  if (!e) return std::nullopt;
  e->ray = r;
  return e;
}

double WhiteIsWide(double semi_major_px) { return std::clamp((semi_major_px - 22) / 20, 0.0, 1.0); }

void CorrectEdges(const Unrolled& u, const std::array<Ray, kRays>& rays, double semi_major_px,
                  double min_contrast, std::vector<EdgePoint>* edges) {
  if (semi_major_px > kSliverTells) {
    const double typical_width = TypicalWidth(rays, *edges);
    for (EdgePoint& e : *edges) PartSliver(u, typical_width, min_contrast, &e);
  }
  // The white beside a small iris is a few pixels wide: what falls off there is its far edge.
  const double wide = WhiteIsWide(semi_major_px);
  // Near by, the edge's own softness outweighs the blur that mixes rim and white.
  const double soft = std::clamp(0.6 - semi_major_px / 180, 0.12, 0.35);
  double white_slope[2], iris_slope[2];
  for (const int arc : {0, 1}) {
    white_slope[arc] = wide * GroundSlope(u, rays, *edges, arc, 1);
    iris_slope[arc] = soft * GroundSlope(u, rays, *edges, arc, -1);
  }
  for (EdgePoint& e : *edges) {
    const int arc = rays[e.ray].arc;
    if (!e.sliver) LeaveOutShading(u, white_slope[arc], iris_slope[arc], min_contrast, &e);
    e.radius = u.first + e.bin * u.step;
    e.blur = e.width * u.step * rays[e.ray].stretch;
  }
}

}  // namespace nearpoint::limbus
