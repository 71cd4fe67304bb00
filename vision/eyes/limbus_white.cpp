#include "vision/eyes/limbus_white.h"

#include <algorithm>

namespace nearpoint::limbus {
namespace {

// Coolness, of that of this eye's best edges: skin has less.
constexpr double kSkinIsBelow = 0.6;

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

}  // namespace

std::optional<Colours> CutColours(const cv::Mat& bgr, const LimbusEllipse& guess, double reach) {
  if (bgr.empty()) return std::nullopt;
  auto blue = CutPatch(bgr, 0, guess, reach);
  auto red = CutPatch(bgr, 2, guess, reach);
  if (!blue || !red) return std::nullopt;
  return Colours{*blue, *red};
}

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

}  // namespace nearpoint::limbus
