#include "vision/eyes/limbus_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace nearpoint {
namespace {

constexpr int kRays = 2 * kRaysPerArc;
constexpr int kBins = 41;             // samples along a ray, across the search range
constexpr double kWorkRadius = 36;    // pixels; larger irises are reduced to this before the fit
constexpr double kSlopeFloor = 0.35;  // of the peak slope: what is less belongs to other structure
// Variance of a Gaussian cut off where it falls below kSlopeFloor of its peak, over its full
// variance.
constexpr double kCutVariance = 0.5255;
// Coolness, of that of this eye's best edges: skin has less.
constexpr double kSkinIsBelow = 0.6;
// Pixels: beside a smaller iris the two edges of a sliver cannot be told apart.
constexpr double kSliverTells = 30;
// The size of a followed eye is known to this share of the search.
constexpr double kSizeSd = 0.4;
constexpr double kUpper = 38, kLower = 52;  // degrees of arc above and below the eye line

// A grey patch around the guess, reduced so that the iris has about kWorkRadius, with the map back
// to the picture.
struct Patch {
  cv::Mat grey;            // CV_32F
  double scale;            // picture pixels per patch pixel
  Eigen::Vector2d origin;  // picture position of patch pixel (0, 0)
  [[nodiscard]] Eigen::Vector2d ToPatch(const Eigen::Vector2d& p) const {
    return (p - origin) / scale;
  }
  [[nodiscard]] bool Sample(double x, double y, float* value) const {
    const int i = static_cast<int>(std::floor(x)), j = static_cast<int>(std::floor(y));
    if (i < 0 || j < 0 || i + 1 >= grey.cols || j + 1 >= grey.rows) return false;
    const float a = static_cast<float>(x - i), b = static_cast<float>(y - j);
    const float* p = grey.ptr<float>(j) + i;
    const float* q = grey.ptr<float>(j + 1) + i;
    *value = (p[0] * (1 - a) + p[1] * a) * (1 - b) + (q[0] * (1 - a) + q[1] * a) * b;
    return true;
  }
};

// The light behind each 8-bit value of a picture coded with the sRGB curve (IEC 61966-2-1), scaled
// to 0..255.
const cv::Mat& LinearLight() {
  static const cv::Mat table = [] {
    cv::Mat t(1, 256, CV_32F);
    for (int i = 0; i < 256; ++i) {
      const double v = i / 255.0;
      t.at<float>(0, i) =
          static_cast<float>(255 * (v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4)));
    }
    return t;
  }();
  return table;
}

// channel: 8-bit, one channel, or -1 for all of a single-channel picture.
std::optional<Patch> CutPatch(const cv::Mat& picture, int channel, const LimbusEllipse& guess,
                              double reach) {
  const double half = guess.semi_major_px * (1 + reach) + 4;
  cv::Rect roi(static_cast<int>(std::floor(guess.centre_px.x() - half)),
               static_cast<int>(std::floor(guess.centre_px.y() - half)),
               static_cast<int>(std::ceil(2 * half)) + 1,
               static_cast<int>(std::ceil(2 * half)) + 1);
  roi &= cv::Rect(0, 0, picture.cols, picture.rows);
  const int factor = std::max(1, static_cast<int>(std::lround(guess.semi_major_px / kWorkRadius)));
  roi.width -= roi.width % factor;
  roi.height -= roi.height % factor;
  if (roi.width < 4 * factor || roi.height < 4 * factor) return std::nullopt;
  // Blur adds up light, not gamma-coded numbers: in coded values the middle of a blurred edge lies
  // on its dark side.
  cv::Mat plane = picture(roi), light, small;
  if (channel >= 0) cv::extractChannel(picture(roi), plane, channel);
  cv::LUT(plane, LinearLight(), light);
  if (factor == 1) {
    small = light;
  } else {
    cv::resize(light, small, cv::Size(roi.width / factor, roi.height / factor), 0, 0,
               cv::INTER_AREA);
  }
  Patch patch;
  patch.grey = small;
  cv::GaussianBlur(patch.grey, patch.grey, cv::Size(3, 3), 0.7);
  patch.scale = factor;
  patch.origin = Eigen::Vector2d(roi.x + (factor - 1) / 2.0, roi.y + (factor - 1) / 2.0);
  return patch;
}

// One direction from the centre, in the frame where the ellipse is a circle of radius one.
struct Ray {
  Eigen::Vector2d unit;       // on the unit circle
  Eigen::Vector2d direction;  // the same point on the unit ellipse, picture axes
  double stretch = 1;         // length of `direction`
  int arc = 0;                // 0 image-left, 1 image-right
};

std::array<Ray, kRays> MakeRays(const LimbusEllipse& guess, double eye_line_rad) {
  std::array<Ray, kRays> rays;
  const double c = std::cos(guess.angle_rad), s = std::sin(guess.angle_rad);
  for (int arc = 0; arc < 2; ++arc) {
    for (int k = 0; k < kRaysPerArc; ++k) {
      const double t = (k + 0.5) / kRaysPerArc;
      const double up_down = (-kUpper + t * (kUpper + kLower)) * std::numbers::pi / 180;
      const double from_eye_line = arc == 1 ? up_down : std::numbers::pi - up_down;
      const double phi = from_eye_line + eye_line_rad - guess.angle_rad;
      Ray& ray = rays[static_cast<std::size_t>(arc * kRaysPerArc + k)];
      ray.unit = {std::cos(phi), std::sin(phi)};
      const Eigen::Vector2d e(ray.unit.x(), ray.unit.y() * guess.aspect);
      ray.direction = {c * e.x() - s * e.y(), s * e.x() + c * e.y()};
      ray.stretch = ray.direction.norm();
      ray.arc = arc;
    }
  }
  return rays;
}

// Brightness along every ray as a function of the radius, and its outward slope.
struct Unrolled {
  std::array<std::array<float, kBins>, kRays> value{};
  std::array<std::array<float, kBins>, kRays> slope{};
  std::array<int, kRays> known{};  // bins from the first that lie inside the picture; a ray that
                                   // leaves it keeps the rest
  double first = 0, step = 0;  // radius (semi-major pixels of the patch) of bin 0, and between bins
};

Unrolled Unroll(const Patch& patch, const std::array<Ray, kRays>& rays,
                const Eigen::Vector2d& centre, double radius, double reach) {
  Unrolled u;
  u.first = radius * (1 - reach);
  u.step = 2 * radius * reach / (kBins - 1);
  for (std::size_t r = 0; r < kRays; ++r) {
    std::size_t b = 0;
    for (; b < kBins; ++b) {
      const Eigen::Vector2d p =
          centre + rays[r].direction * (u.first + static_cast<double>(b) * u.step);
      if (!patch.Sample(p.x(), p.y(), &u.value[r][b])) break;
    }
    u.known[r] = static_cast<int>(b);
    for (std::size_t k = 1; k + 1 < b; ++k)
      u.slope[r][k] = (u.value[r][k + 1] - u.value[r][k - 1]) / 2;
  }
  return u;
}

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

struct EdgePoint {
  std::size_t ray = 0;
  int peak = 0;         // bin where the brightness rises fastest
  double bin = 0;       // where the edge lies, in bins
  double width = 0;     // standard deviation of the transition, in bins
  double radius = 0;    // semi-major pixels of the patch
  double blur = 0;      // the width along the ray, patch pixels
  double contrast = 0;  // 8-bit steps across the edge
  double trust = 1;     // 0..1: whether white of the eye lies beyond
  bool sliver = false;  // the white beyond ends within a few widths
  double belongs = 1;   // 0..1: whether it is the limbus's
  double weight = 1;    // the same, less where its arc is poor
};

// Blue and red of the same patch.
struct Colours {
  Patch blue, red;
};

std::optional<Colours> CutColours(const cv::Mat& bgr, const LimbusEllipse& guess, double reach) {
  if (bgr.empty()) return std::nullopt;
  auto blue = CutPatch(bgr, 0, guess, reach);
  auto red = CutPatch(bgr, 2, guess, reach);
  if (!blue || !red) return std::nullopt;
  return Colours{*blue, *red};
}

// What lies beyond an edge: how much whiter it is than before the edge (in the smaller of blue and
// red, 8-bit steps of light), and how blue it is (blue over red): white of the eye is bluer than
// any skin.
struct Beyond {
  double white_step = 0;
  double coolness = 0;
};

// nullopt where the picture ends.
std::optional<Beyond> LookBeyond(const Colours& colours, const Eigen::Vector2d& centre,
                                 const Ray& ray, double radius, double width) {
  const double gap = std::max(1.5, 1.5 * width / ray.stretch);
  double inside = 0, beyond = 0, blue_beyond = 0, red_beyond = 0;
  for (const double further : {0.0, 1.0, 2.0}) {
    float blue = 0, red = 0;
    const Eigen::Vector2d in = centre + ray.direction * (radius - gap - further);
    if (!colours.blue.Sample(in.x(), in.y(), &blue)) return std::nullopt;
    if (!colours.red.Sample(in.x(), in.y(), &red)) return std::nullopt;
    inside += std::min(blue, red) / 3;
    const Eigen::Vector2d out = centre + ray.direction * (radius + gap + further);
    if (!colours.blue.Sample(out.x(), out.y(), &blue)) return std::nullopt;
    if (!colours.red.Sample(out.x(), out.y(), &red)) return std::nullopt;
    beyond += std::min(blue, red) / 3;
    blue_beyond += blue;
    red_beyond += red;
  }
  return Beyond{beyond - inside, (blue_beyond + 1) / (red_beyond + 1)};
}

double Median(std::vector<double> v) {
  if (v.empty()) return 0;
  auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

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

// The transition nearest to `expected` on one ray.
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

// In strong convergence the nasal limbus lies against the corner of the eye: the edge found there
// may be that of flesh and skin. White lies beyond a true limbus, measured against the best quarter
// of this eye's own edges.
void TrustWhite(const Colours& colours, const Eigen::Vector2d& centre,
                const std::array<Ray, kRays>& rays, double wide, std::vector<EdgePoint>* edges) {
  std::vector<Beyond> known;
  std::vector<std::optional<Beyond>> beyond(edges->size());
  for (std::size_t i = 0; i < edges->size(); ++i) {
    const EdgePoint& e = (*edges)[i];
    beyond[i] = LookBeyond(colours, centre, rays[e.ray], e.radius, e.blur);
    if (beyond[i]) known.push_back(*beyond[i]);
  }
  if (known.size() < 8) return;
  const auto upper = known.begin() + static_cast<std::ptrdiff_t>(3 * known.size() / 4);
  std::nth_element(known.begin(), upper, known.end(),
                   [](const Beyond& a, const Beyond& b) { return a.white_step < b.white_step; });
  const double white_step = upper->white_step;
  if (!(white_step > 0)) return;
  // White is the bluest of what is bright.
  std::vector<double> coolness;
  for (const Beyond& b : known) {
    if (b.white_step > 0.5 * white_step) coolness.push_back(b.coolness);
  }
  const auto bluest = coolness.begin() + static_cast<std::ptrdiff_t>(3 * coolness.size() / 4);
  std::nth_element(coolness.begin(), bluest, coolness.end());
  const double cool = *bluest;
  for (std::size_t i = 0; i < edges->size(); ++i) {
    if (!beyond[i]) continue;
    const double white = (beyond[i]->white_step / white_step - 0.25) / 0.3;
    const double bluish = (beyond[i]->coolness / cool - kSkinIsBelow) / 0.15;
    // Compression blurs colour: beside a small iris it tells nothing.
    (*edges)[i].trust =
        std::clamp(white, 0.0, 1.0) * (1 - wide * (1 - std::clamp(bluish, 0.0, 1.0)));
  }
}

}  // namespace

std::optional<LimbusFit> FitLimbus(const cv::Mat& luma, const cv::Mat& bgr,
                                   const LimbusEllipse& guess, const LimbusOptions& options) {
  if (!(guess.semi_major_px > 3) || !(guess.semi_major_px < 4 * luma.cols)) return std::nullopt;
  const double reach = std::clamp(std::max(options.search, options.size_search) + 0.18, 0.2, 0.75);
  const auto patch = CutPatch(luma, -1, guess, 1.2 * reach + 0.1);
  if (!patch) return std::nullopt;
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
      if (const auto e = FindEdge(u, r, radius, window, options.min_contrast)) edges.push_back(*e);
    }
    const double typical_width = TypicalWidth(rays, edges);
    if (radius * patch->scale > kSliverTells) {
      for (EdgePoint& e : edges) PartSliver(u, typical_width, options.min_contrast, &e);
    }
    // The white beside a small iris is a few pixels wide: what falls off there is its far edge.
    const double wide = std::clamp((radius * patch->scale - 22) / 20, 0.0, 1.0);
    // Near by, the edge's own softness outweighs the blur that mixes rim and white.
    const double soft = std::clamp(0.6 - radius * patch->scale / 180, 0.12, 0.42);
    double white_slope[2], iris_slope[2];
    for (const int arc : {0, 1}) {
      white_slope[arc] = wide * GroundSlope(u, rays, edges, arc, 1);
      iris_slope[arc] = soft * GroundSlope(u, rays, edges, arc, -1);
    }
    for (EdgePoint& e : edges) {
      if (!e.sliver)
        LeaveOutShading(u, white_slope[rays[e.ray].arc], iris_slope[rays[e.ray].arc],
                        options.min_contrast, &e);
      e.radius = u.first + e.bin * u.step;
      e.blur = e.width * u.step * rays[e.ray].stretch;
    }
    if (edges.size() < kRaysPerArc / 3) return std::nullopt;
    if (colours) TrustWhite(*colours, centre, rays, wide, &edges);
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
        edges[i].weight = edges[i].belongs * (sigma / own) * (sigma / own);
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
  for (const EdgePoint& e : edges) {
    if (e.belongs < 0.25) continue;
    (rays[e.ray].arc == 0 ? fit.left_points : fit.right_points) += 1;
    contrasts.push_back(e.contrast);
    widths.push_back(e.blur);
    weight_sum += e.weight;
  }
  if (fit.left_points + fit.right_points < kRaysPerArc / 3) return std::nullopt;
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
  return fit;
}

}  // namespace nearpoint
