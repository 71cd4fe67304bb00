#include "vision/eyes/eye_finder.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <optional>

namespace nearpoint {
namespace {

constexpr int kWorkWidth = 160;
constexpr int kSamples = 7;         // along each side arc
constexpr double kArcDegrees = 35;  // half height of a side arc
constexpr double kInner = 0.80, kStrip = 1.12,
                 kOuter = 1.24;  // of the radius: where dark and bright are compared
constexpr int kKeep = 14;        // candidates that go into pairing
constexpr float kMinStep = 5;    // 8-bit steps

// Sum over the side arc of one ring, for a whole row at once: acc[x] += row[x + dx] of the padded
// picture.
struct Offset {
  int dx, dy;
};

std::vector<Offset> Arc(double radius, bool right) {
  std::vector<Offset> out;
  for (int k = 0; k < kSamples; ++k) {
    const double a = (-1 + 2.0 * k / (kSamples - 1)) * kArcDegrees * std::numbers::pi / 180;
    out.push_back({static_cast<int>(std::lround((right ? 1 : -1) * radius * std::cos(a))),
                   static_cast<int>(std::lround(radius * std::sin(a)))});
  }
  return out;
}

void AddRow(const cv::Mat& padded, int pad, int y, const std::vector<Offset>& arc, int sign,
            std::vector<int>* acc) {
  const int width = static_cast<int>(acc->size());
  for (const Offset& o : arc) {
    const std::uint8_t* row = padded.ptr<std::uint8_t>(y + pad + o.dy) + pad + o.dx;
    for (int x = 0; x < width; ++x) (*acc)[static_cast<std::size_t>(x)] += sign * row[x];
  }
}

}  // namespace

std::vector<IrisPair> FindIrisPairs(const cv::Mat& channel, const EyeFinderOptions& options) {
  const double reduction = std::max(1.0, static_cast<double>(channel.cols) / kWorkWidth);
  cv::Mat small;
  cv::resize(channel, small, cv::Size(), 1 / reduction, 1 / reduction, cv::INTER_AREA);
  const double min_radius = std::max(3.0, options.min_radius * small.cols);
  const double max_radius = options.max_radius * small.cols;
  const int pad = static_cast<int>(std::ceil(max_radius * kOuter)) + 2;
  cv::Mat padded;
  cv::copyMakeBorder(small, padded, pad, pad, pad, pad, cv::BORDER_REPLICATE);

  // Best radius and score at every place, apart for the two eyes: white is broad on the temporal
  // side; on the nasal side strong convergence leaves a strip of it or none.
  std::array<std::vector<IrisCandidate>, 2> found;  // image-left eye, image-right eye
  std::array<cv::Mat, 2> score, radius;
  for (std::size_t eye = 0; eye < 2; ++eye) {
    score[eye] = cv::Mat(small.size(), CV_32F, cv::Scalar(0));
    radius[eye] = cv::Mat(small.size(), CV_32F, cv::Scalar(0));
  }
  const auto width = static_cast<std::size_t>(small.cols);
  std::array<std::vector<int>, 2> wide{std::vector<int>(width), std::vector<int>(width)},
      tight = wide;
  for (double r = min_radius; r <= max_radius; r *= 1.13) {
    std::array<std::vector<Offset>, 2> inner, outer, strip;
    for (std::size_t side = 0; side < 2; ++side) {
      inner[side] = Arc(r * kInner, side == 1);
      outer[side] = Arc(r * kOuter, side == 1);
      strip[side] = Arc(r * kStrip, side == 1);
    }
    for (int y = 0; y < small.rows; ++y) {
      for (std::size_t side = 0; side < 2; ++side) {
        std::fill(wide[side].begin(), wide[side].end(), 0);
        std::fill(tight[side].begin(), tight[side].end(), 0);
        AddRow(padded, pad, y, inner[side], -1, &wide[side]);
        tight[side] = wide[side];
        AddRow(padded, pad, y, outer[side], 1, &wide[side]);
        AddRow(padded, pad, y, strip[side], 1, &tight[side]);
      }
      for (std::size_t eye = 0; eye < 2; ++eye) {
        float* best = score[eye].ptr<float>(y);
        float* best_radius = radius[eye].ptr<float>(y);
        const auto& temporal = wide[eye];
        const auto& nasal = tight[1 - eye];
        for (std::size_t x = 0; x < width; ++x) {
          const float t = static_cast<float>(temporal[x]) / kSamples,
                      n = static_cast<float>(nasal[x]) / kSamples;
          const float s = std::min(t, 60.0F) + 0.7F * std::clamp(n, -30.0F, 40.0F);
          if (t > kMinStep && n > -kMinStep && s > best[x]) {
            best[x] = s;
            best_radius[x] = static_cast<float>(r);
          }
        }
      }
    }
  }

  // The strongest places, each claiming its surroundings.
  for (std::size_t eye = 0; eye < 2; ++eye) {
    cv::Mat open = score[eye].clone();
    while (static_cast<int>(found[eye].size()) < kKeep) {
      double top = 0;
      cv::Point at;
      cv::minMaxLoc(open, nullptr, &top, nullptr, &at);
      if (top <= 0) break;
      const double r = radius[eye].at<float>(at);
      found[eye].push_back({Eigen::Vector2d(at.x, at.y), r, top});
      cv::circle(open, at, static_cast<int>(std::ceil(0.6 * r)), cv::Scalar(0), cv::FILLED);
    }
  }

  struct Scored {
    IrisPair pair;
    double score;
  };
  std::vector<Scored> pairs;
  for (const IrisCandidate& a : found[0]) {
    for (const IrisCandidate& b : found[1]) {
      if (!(a.centre_px.x() < b.centre_px.x())) continue;
      const Eigen::Vector2d line = b.centre_px - a.centre_px;
      const double mean = (a.radius_px + b.radius_px) / 2;
      const double ratio = a.radius_px / b.radius_px;
      // Pupil distances of 45 to 75 mm less what convergence takes, over iris radii of 5.3 to 6.3
      // mm.
      const double apart = line.norm() / mean;
      if (ratio < 0.72 || ratio > 1.38 || apart < 5.8 || apart > 13.5) continue;
      if (std::abs(line.y()) > 0.45 * line.x()) continue;
      const double unlike = std::abs(std::log(ratio)) + 0.5 * std::abs(line.y()) / line.x();
      const double typical = std::abs(std::log(apart / 9.2));
      pairs.push_back(
          {{a, b}, std::min(a.score, b.score) * std::exp(-1.5 * unlike - 0.7 * typical)});
    }
  }
  std::sort(pairs.begin(), pairs.end(),
            [](const Scored& a, const Scored& b) { return a.score > b.score; });
  std::vector<IrisPair> out;
  for (const Scored& p : pairs) {
    if (out.size() == 8) break;
    IrisPair full = p.pair;
    for (IrisCandidate* c : {&full.image_left, &full.image_right}) {
      c->centre_px =
          (c->centre_px + Eigen::Vector2d(0.5, 0.5)) * reduction - Eigen::Vector2d(0.5, 0.5);
      c->radius_px *= reduction;
    }
    out.push_back(full);
  }
  return out;
}

bool HasWhiteBeside(const cv::Mat& bgr, const Eigen::Vector2d& centre_px, double radius_px,
                    double eye_line_rad) {
  struct Colour {
    double blue, red;
    [[nodiscard]] double whiteness() const { return std::min(blue, red); }
    [[nodiscard]] double coolness() const { return (blue + 1) / (red + 1); }
  };
  // Mean over a small polar patch; nothing when it is mostly outside the picture.
  const auto mean = [&](double from_deg, double to_deg, double from_radius,
                        double to_radius) -> std::optional<Colour> {
    Colour sum{};
    int seen = 0, all = 0;
    for (int i = 0; i < 7; ++i) {
      for (int k = 0; k < 4; ++k, ++all) {
        const double a =
            (from_deg + (to_deg - from_deg) * i / 6) * std::numbers::pi / 180 + eye_line_rad;
        const double r = radius_px * (from_radius + (to_radius - from_radius) * k / 3);
        const auto x = static_cast<int>(std::lround(centre_px.x() + r * std::cos(a)));
        const auto y = static_cast<int>(std::lround(centre_px.y() + r * std::sin(a)));
        if (x < 0 || y < 0 || x >= bgr.cols || y >= bgr.rows) continue;
        const auto& pixel = bgr.at<cv::Vec3b>(y, x);
        sum.blue += pixel[0];
        sum.red += pixel[2];
        ++seen;
      }
    }
    if (2 * seen < all) return std::nullopt;
    return Colour{sum.blue / seen, sum.red / seen};
  };
  Colour skin{};
  int patches = 0;
  for (const double direction : {-90.0, 90.0}) {
    if (const auto m = mean(direction - 15, direction + 15, 1.7, 2.1)) {
      skin.blue += m->blue;
      skin.red += m->red;
      ++patches;
    }
  }
  if (patches > 0) skin = {skin.blue / patches, skin.red / patches};
  for (const double side : {0.0, 180.0}) {
    const auto beside = mean(side - 15, side + 15, 1.12, 1.3);
    const auto iris = mean(side - 20, side + 20, 0.7, 0.88);
    if (!beside || !iris || beside->whiteness() < 1.15 * iris->whiteness()) continue;
    // Under the shade of the lids the white is often no brighter than fair skin in full light, but
    // skin is never as blue.
    if (patches == 0 || beside->whiteness() > 1.03 * skin.whiteness() ||
        (beside->coolness() > 1.15 * skin.coolness() &&
         beside->whiteness() > 0.6 * skin.whiteness())) {
      return true;
    }
  }
  return false;
}

}  // namespace nearpoint
