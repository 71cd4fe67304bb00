#include "vision/simulate/overlays.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "vision/simulate/light_scale.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/random.h"
#include "vision/simulate/skin.h"

namespace nearpoint::simulate {
namespace {

constexpr int kShift = 4;
constexpr double kNearestMm = 4;  // nothing nearer to the lens is drawn

std::optional<Eigen::Vector2d> Pixel(const OverlayView& view, const Eigen::Vector3d& in_head) {
  const Eigen::Vector3d p =
      view.state.camera_from_head * (view.through ? view.through->Apparent(in_head) : in_head) +
      view.state.eye_mid_mm;
  if (p.z() < kNearestMm) return std::nullopt;
  const Eigen::Vector2d px = Project(view.camera, p);
  if (!(px.norm() < 20000)) return std::nullopt;
  return px;
}
cv::Point Fixed(const Eigen::Vector2d& px, const cv::Rect& box) {
  return {static_cast<int>(std::lround((px.x() - box.x) * (1 << kShift))),
          static_cast<int>(std::lround((px.y() - box.y) * (1 << kShift)))};
}

// picture += (colour - picture) * mask * alpha within box.
void Blend(const cv::Mat& mask, const cv::Rect& box, const cv::Vec3f& colour, float alpha,
           cv::Mat& picture) {
  const float weight = std::clamp(alpha, 0.0F, 1.0F) / 255;
  const cv::Vec3f target = colour * static_cast<float>(kWhite);
  for (int y = 0; y < box.height; ++y) {
    const uchar* m = mask.ptr<uchar>(y);
    cv::Vec3w* p = picture.ptr<cv::Vec3w>(y + box.y) + box.x;
    for (int x = 0; x < box.width; ++x) {
      if (m[x] == 0) continue;
      const float w = weight * static_cast<float>(m[x]);
      for (int k = 0; k < 3; ++k) {
        const auto before = static_cast<float>(p[x][k]);
        p[x][k] = cv::saturate_cast<ushort>(before + (target[k] - before) * w);
      }
    }
  }
}

// picture += light * mask within box: what a clear surface mirrors.
void Add(const cv::Mat& mask, const cv::Rect& box, const cv::Vec3f& light, cv::Mat& picture) {
  const cv::Vec3f scaled = light * (static_cast<float>(kWhite) / 255);
  for (int y = 0; y < box.height; ++y) {
    const uchar* m = mask.ptr<uchar>(y);
    cv::Vec3w* p = picture.ptr<cv::Vec3w>(y + box.y) + box.x;
    for (int x = 0; x < box.width; ++x) {
      if (m[x] == 0) continue;
      for (int k = 0; k < 3; ++k) {
        p[x][k] = cv::saturate_cast<ushort>(static_cast<float>(p[x][k]) +
                                            scaled[k] * static_cast<float>(m[x]));
      }
    }
  }
}

cv::Rect Box(const std::vector<Eigen::Vector2d>& points, double pad, const cv::Size& size) {
  double x0 = 1e9, x1 = -1e9, y0 = 1e9, y1 = -1e9;
  for (const Eigen::Vector2d& p : points) {
    x0 = std::min(x0, p.x());
    x1 = std::max(x1, p.x());
    y0 = std::min(y0, p.y());
    y1 = std::max(y1, p.y());
  }
  const auto clip = [](double v, int high) {
    return static_cast<int>(std::clamp(v, 0.0, static_cast<double>(high)));
  };
  const int left = clip(x0 - pad, size.width);
  const int top = clip(y0 - pad, size.height);
  const int right = clip(x1 + pad + 1, size.width);
  const int bottom = clip(y1 + pad + 1, size.height);
  return {left, top, std::max(0, right - left), std::max(0, bottom - top)};
}

}  // namespace

Lashes::Lashes(const HeadShape& shape, const Appearance& appearance) {
  (void)shape;
  Random random(appearance.texture_seed, 31);
  reflectance_ = Reflectance(HairPaint(appearance) * 0.5F);
  for (int i = 0; i < 85; ++i) {
    const double along = 0.08 + 0.90 * (i + random.Uniform(-0.4, 0.4)) / 85;
    lashes_.push_back({along, random.Uniform(4.2, 7.5) * (0.6 + 0.55 * along),
                       -0.55 + 1.35 * along + 0.12 * random.Normal(), random.Uniform(0.45, 0.75),
                       true});
  }
  for (int i = 0; i < 48; ++i) {
    const double along = 0.16 + 0.80 * (i + random.Uniform(-0.4, 0.4)) / 48;
    lashes_.push_back({along, random.Uniform(2.2, 4.2), -0.5 + 1.2 * along + 0.15 * random.Normal(),
                       random.Uniform(0.4, 0.8), false});
  }
}

void Lashes::Draw(const HeadShape& shape, const Lids& lids, const OverlayView& view,
                  cv::Mat& picture) const {
  const double f = view.camera.fx;
  const double distance = std::max(10.0, view.state.eye_mid_mm.z());
  const double width_px = 0.11 * f / distance;
  const int thickness = std::max(1, static_cast<int>(std::lround(width_px)));
  const double alpha = 0.85 * std::min(1.0, width_px / thickness);
  const double closed = std::min(1.0, lids.closed);
  for (const int eye : {kLeft, kRight}) {
    std::vector<std::array<Eigen::Vector2d, 4>> strokes;
    std::vector<Eigen::Vector2d> all;
    for (const Lash& lash : lashes_) {
      const double x = shape.AlongToX(lash.along);
      const double y =
          lash.upper ? shape.UpperMargin(lash.along, lids) : shape.LowerMargin(lash.along, lids);
      const double side = SideSign(eye);
      const Eigen::Vector3d root(side * x, y, shape.LidHeight(x, y) + 0.2);
      const double lift = lash.upper ? lash.lift * (1 - 1.9 * closed) : -lash.lift;
      const double forward = lash.upper ? 0.75 : 0.45;
      const auto at = [&](double t) {  // leaves the lid forward and bends
        return Eigen::Vector3d(
            root + lash.length * Eigen::Vector3d(side * lash.lean * 0.55 * t,
                                                 lift * t * (lash.upper ? t : 0.4 + 0.6 * t) -
                                                     (lash.upper ? 0.12 * t * (1 - t) : 0),
                                                 forward * t * (1 - 0.35 * t)));
      };
      std::array<Eigen::Vector2d, 4> stroke;
      bool seen = true;
      for (int i = 0; i < 4 && seen; ++i) {
        const auto px = Pixel(view, at(i / 3.0));
        seen = px.has_value();
        if (seen) stroke[static_cast<std::size_t>(i)] = *px;
      }
      if (!seen) continue;
      strokes.push_back(stroke);
      all.insert(all.end(), stroke.begin(), stroke.end());
    }
    if (strokes.empty()) continue;
    const cv::Rect box = Box(all, 3, picture.size());
    if (box.empty()) continue;
    cv::Mat mask = cv::Mat::zeros(box.size(), CV_8U);
    for (const auto& stroke : strokes) {
      for (std::size_t i = 3; i-- > 0;) {  // the root last: it is the darkest
        const int value = i == 2 ? 120 : (i == 1 ? 200 : 255);
        cv::line(mask, Fixed(stroke[i], box), Fixed(stroke[i + 1], box), cv::Scalar(value),
                 i == 2 ? std::max(1, thickness - 1) : thickness, cv::LINE_AA, kShift);
      }
    }
    Blend(mask, box, reflectance_ * view.light, static_cast<float>(alpha), picture);
  }
}

Glasses::Glasses(const HeadShape& shape, const Appearance& appearance) {
  Random random(appearance.texture_seed, 41);
  const double s = shape.scale();
  const double power = random.Uniform(2.4, 3.6);
  const double half_width = random.Uniform(23, 26);
  const double half_height = random.Uniform(17.5, 21);
  bar_mm_ = random.Uniform(1.0, 2.4);
  const double x = half_width + 9.5;
  const auto outline = [&](double grow) {
    std::vector<Eigen::Vector3d> points;
    for (int i = 0; i < 64; ++i) {
      const double angle = 2 * std::numbers::pi * i / 64;
      const auto bent = [&](double v) {
        return std::copysign(std::pow(std::abs(v), 2 / power), v);
      };
      const double px = x + (half_width + grow) * bent(std::cos(angle));
      const double py = -4 + (half_height + grow) * bent(std::sin(angle));
      points.emplace_back(px * s, py * s, (13.5 - 0.0016 * px * px) * s);  // follows the face
    }
    return points;
  };
  inner_ = outline(0);
  outer_ = outline(bar_mm_);
  bridge_ = Eigen::Vector3d(9.5, 1.5, 13.4) * s;
  hinge_ = Eigen::Vector3d(x + half_width + bar_mm_, 6, 7) * s;
  ear_ = Eigen::Vector3d(76, 4, -80) * s;
  const auto tone = static_cast<float>(random.Uniform(0.02, 0.09));
  reflectance_ = Reflectance({tone, tone * 1.05F, tone * 1.2F});
}

void Glasses::Draw(const OverlayView& view, float window, cv::Mat& picture) const {
  const cv::Vec3f colour = reflectance_ * view.light;
  for (const int eye : {kLeft, kRight}) {
    const Eigen::Vector3d mirror(SideSign(eye), 1, 1);
    std::vector<Eigen::Vector2d> inner;
    std::vector<Eigen::Vector2d> outer;
    for (std::size_t i = 0; i < inner_.size(); ++i) {
      const auto a = Pixel(view, inner_[i].cwiseProduct(mirror));
      const auto b = Pixel(view, outer_[i].cwiseProduct(mirror));
      if (!a || !b) return;
      inner.push_back(*a);
      outer.push_back(*b);
    }
    const cv::Rect box = Box(outer, 3, picture.size());
    if (box.empty()) continue;
    const auto fixed = [&](const std::vector<Eigen::Vector2d>& points) {
      std::vector<cv::Point> out;
      out.reserve(points.size());
      for (const Eigen::Vector2d& p : points) out.push_back(Fixed(p, box));
      return out;
    };
    cv::Mat lens = cv::Mat::zeros(box.size(), CV_8U);
    cv::fillPoly(lens, std::vector{fixed(inner)}, cv::Scalar(255), cv::LINE_AA, kShift);

    // A window behind the camera in the flat front of the lens: its mirror image moves against the
    // head.
    const Eigen::Matrix3d& r = view.state.camera_from_head;
    const Eigen::Vector3d normal = r * Eigen::Vector3d(0.10 * SideSign(eye), 0.08, 1).normalized();
    const Eigen::Vector3d on_lens =
        r * Eigen::Vector3d(inner_[0].cwiseProduct(mirror)) + view.state.eye_mid_mm;
    std::vector<Eigen::Vector2d> patch;
    for (const auto& [wx, wy] :
         {std::pair{-390.0, -420.0}, {-210.0, -420.0}, {-210.0, -240.0}, {-390.0, -240.0}}) {
      // The image of the window point behind the lens, seen from the camera through the lens plane.
      const Eigen::Vector3d point(wx, wy, -900);
      const Eigen::Vector3d image = point - 2 * (point - on_lens).dot(normal) * normal;
      if (image.z() < 10) break;
      const Eigen::Vector2d px = Project(view.camera, image);
      if (px.norm() > 20000) break;
      patch.push_back(px);
    }
    if (patch.size() == 4 && window > 0) {
      cv::Mat glare = cv::Mat::zeros(box.size(), CV_8U);
      cv::fillPoly(glare, std::vector{fixed(patch)}, cv::Scalar(255), cv::LINE_AA, kShift);
      cv::blur(glare, glare, cv::Size(5, 5));
      cv::min(glare, lens, glare);
      Add(glare, box, cv::Vec3f(1, 1, 0.94F) * (0.22F * window), picture);
    }
    // A faint veil over the whole lens.
    Add(lens, box, cv::Vec3f(1, 0.9F, 0.9F) * (0.006F * window), picture);

    cv::Mat rim = cv::Mat::zeros(box.size(), CV_8U);
    cv::fillPoly(rim, std::vector{fixed(outer)}, cv::Scalar(255), cv::LINE_AA, kShift);
    cv::subtract(rim, lens, rim);
    Blend(rim, box, colour, 0.96F, picture);
  }
  // A straight piece of the frame, except where the head hides it.
  const auto bar = [&](const Eigen::Vector3d& from, const Eigen::Vector3d& to) {
    constexpr int kPieces = 24;
    std::vector<Eigen::Vector2d> points;
    std::vector<int> thick;
    for (int i = 0; i <= kPieces; ++i) {
      const Eigen::Vector3d at = from + (to - from) * i / kPieces;
      const auto p = Pixel(view, at);
      if (!p) break;
      const double z = (view.state.camera_from_head * at + view.state.eye_mid_mm).z();
      const cv::Point px(static_cast<int>(std::lround(p->x())),
                         static_cast<int>(std::lround(p->y())));
      if (i > 0 && px.x >= 0 && px.y >= 0 && px.x < picture.cols && px.y < picture.rows &&
          view.depth.at<float>(px) < z - 1) {
        break;
      }
      points.push_back(*p);
      thick.push_back(std::clamp(
          static_cast<int>(std::lround(bar_mm_ * view.camera.fx / std::max(10.0, z))), 1, 200));
    }
    if (points.size() < 2) return;
    const cv::Rect box =
        Box(points, *std::max_element(thick.begin(), thick.end()) + 3, picture.size());
    if (box.empty()) return;
    cv::Mat mask = cv::Mat::zeros(box.size(), CV_8U);
    for (std::size_t i = 1; i < points.size(); ++i) {
      cv::line(mask, Fixed(points[i - 1], box), Fixed(points[i], box), cv::Scalar(255), thick[i],
               cv::LINE_AA, kShift);
    }
    Blend(mask, box, colour, 1, picture);
  };
  const Eigen::Vector3d swap(-1, 1, 1);
  bar(bridge_, bridge_.cwiseProduct(swap));
  bar(hinge_, ear_);
  bar(hinge_.cwiseProduct(swap), ear_.cwiseProduct(swap));
}

}  // namespace nearpoint::simulate
