#include "vision/simulate/card_picture.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <vector>

#include "vision/simulate/light_scale.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/sensor.h"
#include "vision/simulate/skin.h"

namespace nearpoint::simulate {
namespace {

constexpr double kNearestMm = 20;  // a card nearer to the lens than this is not drawn
constexpr double kWhitePaper = 0.80;
constexpr double kBlackInk = 0.035;
constexpr double kLampLight = 1.6;

// A finger as a rounded bar in the plane of the card.
struct Finger {
  Eigen::Vector2d tip, root;
  double radius;
};

std::vector<Finger> FingersOf(const CardProp& prop) {
  std::vector<Finger> fingers;
  const double in = prop.fingers.mm();
  if (in < -20) return fingers;
  const double w = prop.width.mm() / 2;
  const double h = prop.height.mm() / 2;
  constexpr double kFinger = 7.5;
  constexpr double kThumb = 9.5;
  if (prop.place == CardPlace::kHeld || prop.place == CardPlace::kTouch) {
    const Eigen::Vector2d tip(6, h - in + kThumb);
    fingers.push_back({tip, tip + Eigen::Vector2d(14, 95), kThumb});
    return fingers;
  }
  for (const double side : {-1.0, 1.0}) {
    for (const double y : {-6.0, 10.0}) {
      const Eigen::Vector2d tip(side * (w - in + kFinger), y);
      fingers.push_back({tip, tip + Eigen::Vector2d(side * 70, 26), kFinger});
    }
  }
  return fingers;
}

class CardSurface {
 public:
  CardSurface(const CardScene& scene)
      : prop_(*scene.options.card),
        pose_(*scene.state.card),
        scene_(scene),
        fingers_(FingersOf(prop_)),
        half_(prop_.width.mm() / 2, prop_.height.mm() / 2),
        per_mm_(prop_.picture.cols / prop_.width.mm(), prop_.picture.rows / prop_.height.mm()),
        bend_(4 * prop_.bend.mm() / (prop_.width.mm() * prop_.width.mm())),
        skin_(Reflectance(SkinPaint(scene.options.appearance.skin_tone))) {
    camera_from_card_ = pose_.camera_from_card;
    card_from_camera_ = camera_from_card_.transpose();
    lens_in_card_ = -card_from_camera_ * pose_.middle_mm;
    light_paper_ = LightOn(-Eigen::Vector3d::UnitZ());
  }

  struct Hit {
    cv::Vec3f light;  // gained
    float depth_mm;
  };
  // What a ray with direction (x, y, 1) in the camera frame meets first of card and fingers.
  [[nodiscard]] std::optional<Hit> Look(double x, double y) const {
    const Eigen::Vector3d ray = card_from_camera_ * Eigen::Vector3d(x, y, 1);
    double lambda = -lens_in_card_.z() / ray.z();
    if (!(lambda > 0)) return std::nullopt;
    Eigen::Vector3d at = lens_in_card_ + lambda * ray;
    for (int i = 0; bend_ != 0 && i < 6; ++i) {  // Newton on z = bend x^2
      const double error = at.z() - bend_ * at.x() * at.x();
      lambda -= error / (ray.z() - 2 * bend_ * at.x() * ray.x());
      at = lens_in_card_ + lambda * ray;
    }
    const Eigen::Vector2d p(Along(at.x()), at.y());
    for (const Finger& finger : fingers_) {
      if (const auto light = LookAt(finger, p)) return Hit{*light, static_cast<float>(lambda)};
    }
    const double corner = prop_.corner_radius.mm();
    const Eigen::Vector2d beyond = (p.cwiseAbs() - half_).array() + corner;
    if (beyond.cwiseMax(0).norm() > corner || beyond.maxCoeff() > corner) return std::nullopt;
    const double ink = kBlackInk + (kWhitePaper - kBlackInk) * Print(p);
    cv::Vec3f light = light_paper_ * static_cast<float>(ink);
    const double lamp = prop_.glare.mm();
    if (lamp > 0) {
      const double off = (p - Eigen::Vector2d(half_.x() / 2, -half_.y() / 3)).norm() / lamp;
      const auto shine = static_cast<float>(kLampLight * std::exp(-off * off * off * off));
      light += cv::Vec3f(1, 1, 1) * shine * static_cast<float>(scene_.gain);
    }
    return Hit{light, static_cast<float>(lambda)};
  }

  // The corners of what can be drawn, camera frame.
  [[nodiscard]] std::vector<Eigen::Vector3d> Outline() const {
    std::vector<Eigen::Vector3d> points;
    const double deep = bend_ * half_.x() * half_.x();
    for (const double x : {-half_.x(), 0.0, half_.x()}) {
      for (const double y : {-half_.y(), half_.y()}) {
        points.push_back(pose_.ToCamera({x, y, x == 0 ? 0 : deep}));
      }
    }
    for (const Finger& f : fingers_) {
      for (const Eigen::Vector2d& end : {f.tip, f.root}) {
        for (const double dx : {-f.radius, f.radius}) {
          for (const double dy : {-f.radius, f.radius}) {
            points.push_back(pose_.ToCamera({end.x() + dx, end.y() + dy, deep}));
          }
        }
      }
    }
    return points;
  }

 private:
  // Length along the bent card from its middle.
  [[nodiscard]] double Along(double x) const {
    if (bend_ == 0) return x;
    const double k = 2 * bend_;
    return 0.5 * x * std::sqrt(1 + k * k * x * x) + std::asinh(k * x) / (2 * k);
  }

  // Share of white at a point of the card.
  [[nodiscard]] double Print(const Eigen::Vector2d& p) const {
    const cv::Mat& print = prop_.picture;
    const double u = std::clamp((p.x() + half_.x()) * per_mm_.x() - 0.5, 0.0,
                                static_cast<double>(print.cols - 1));
    const double v = std::clamp((p.y() + half_.y()) * per_mm_.y() - 0.5, 0.0,
                                static_cast<double>(print.rows - 1));
    const int i = std::min(static_cast<int>(u), std::max(0, print.cols - 2));
    const int j = std::min(static_cast<int>(v), std::max(0, print.rows - 2));
    const int i1 = std::min(i + 1, print.cols - 1);
    const int j1 = std::min(j + 1, print.rows - 1);
    const double a = u - i;
    const double b = v - j;
    const auto* row0 = print.ptr<uchar>(j);
    const auto* row1 = print.ptr<uchar>(j1);
    return ((1 - b) * ((1 - a) * row0[i] + a * row0[i1]) + b * ((1 - a) * row1[i] + a * row1[i1])) /
           255;
  }

  [[nodiscard]] cv::Vec3f LightOn(const Eigen::Vector3d& normal_in_card) const {
    const Eigen::Matrix3d head_from_camera = scene_.state.camera_from_head.transpose();
    const Eigen::Vector3d point = head_from_camera * (pose_.middle_mm - scene_.state.eye_mid_mm);
    const Eigen::Vector3d normal = head_from_camera * camera_from_card_ * normal_in_card;
    const Lighting::Sample sample =
        scene_.lighting.At(point.cast<float>(), normal.cast<float>(), 0.95F);
    return cv::Vec3f(sample.diffuse.x(), sample.diffuse.y(), sample.diffuse.z()) *
           static_cast<float>(scene_.gain);
  }

  [[nodiscard]] std::optional<cv::Vec3f> LookAt(const Finger& finger,
                                                const Eigen::Vector2d& p) const {
    const Eigen::Vector2d axis = finger.root - finger.tip;
    const double along = std::clamp((p - finger.tip).dot(axis) / axis.squaredNorm(), 0.0, 1.0);
    const Eigen::Vector2d off = p - finger.tip - along * axis;
    const double part = off.norm() / finger.radius;
    if (part > 1) return std::nullopt;
    const Eigen::Vector3d normal(off.x() / finger.radius, off.y() / finger.radius,
                                 -std::sqrt(std::max(0.0, 1 - part * part)));
    return LightOn(normal).mul(skin_);
  }

  const CardProp& prop_;
  const CardPose& pose_;
  const CardScene& scene_;
  std::vector<Finger> fingers_;
  Eigen::Vector2d half_, per_mm_;
  double bend_;  // z = bend x^2
  cv::Vec3f skin_, light_paper_;
  Eigen::Matrix3d camera_from_card_, card_from_camera_;
  Eigen::Vector3d lens_in_card_;
};

// The pixels that the card may touch, with room for its blur.
std::optional<cv::Rect> BoxOf(const CardSurface& card, const CameraIntrinsics& camera, int pad) {
  double x0 = 1e9;
  double x1 = -1e9;
  double y0 = 1e9;
  double y1 = -1e9;
  for (const Eigen::Vector3d& p : card.Outline()) {
    if (p.z() < kNearestMm) return std::nullopt;
    const Eigen::Vector2d px = Project(camera, p);
    x0 = std::min(x0, px.x());
    x1 = std::max(x1, px.x());
    y0 = std::min(y0, px.y());
    y1 = std::max(y1, px.y());
  }
  const auto clip = [](double v, int high) {
    return static_cast<int>(std::clamp(v, 0.0, static_cast<double>(high)));
  };
  // Distortion bends straight edges outward a little.
  const double room = pad + 4;
  const int left = clip(x0 - room, camera.width);
  const int top = clip(y0 - room, camera.height);
  const cv::Rect box(left, top, clip(x1 + room, camera.width) - left,
                     clip(y1 + room, camera.height) - top);
  if (box.width <= 0 || box.height <= 0) return std::nullopt;
  return box;
}

}  // namespace

void DrawCard(const CardScene& scene, cv::Mat& picture) {
  const CameraIntrinsics& camera = scene.options.optics.camera;
  const CardSurface card(scene);
  const double card_mm = scene.state.card->middle_mm.z();
  // The face's blur comes later and over everything; this is what the card has more of it. A disc
  // has the variance (diameter / 4)^2 along each axis.
  const double own = BlurCirclePx(scene.options.optics, Length::Millimeters(card_mm)) / 4;
  const double later =
      BlurCirclePx(scene.options.optics, Length::Millimeters(scene.state.eye_mid_mm.z())) / 4;
  const double sigma = std::sqrt(std::max(0.0, own * own - later * later));
  const int pad = static_cast<int>(std::ceil(3 * sigma));
  const auto box = BoxOf(card, camera, pad);
  if (!box) return;

  // A pixel is the mean of taps x taps rays; a card that fills the picture needs fewer of them.
  const int taps = card_mm < 160 ? 3 : 5;
  cv::Mat layer(box->size(), CV_32FC4, cv::Scalar::all(0));  // light times cover, and cover
  cv::parallel_for_(cv::Range(0, box->height), [&](const cv::Range& range) {
    for (int row = range.start; row < range.end; ++row) {
      const int y = row + box->y;
      const cv::Vec2f* rays = scene.rays.ptr<cv::Vec2f>(y);
      const float* depth = scene.depth.ptr<float>(y);
      auto* out = layer.ptr<cv::Vec4f>(row);
      for (int column = 0; column < box->width; ++column) {
        const int x = column + box->x;
        cv::Vec4f sum(0, 0, 0, 0);
        for (int tap = 0; tap < taps * taps; ++tap) {
          const int tap_row = tap / taps;
          const double ox = (tap % taps + 0.5) / taps - 0.5;
          const double oy = (tap_row + 0.5) / taps - 0.5;
          const auto hit = card.Look(static_cast<double>(rays[x][0]) + ox / camera.fx,
                                     static_cast<double>(rays[x][1]) + oy / camera.fy);
          if (!hit || hit->depth_mm > depth[x]) continue;
          for (int k = 0; k < 3; ++k) sum[k] += hit->light[k];
          sum[3] += 1;
        }
        out[column] = sum * (1.0F / static_cast<float>(taps * taps));
      }
    }
  });
  if (sigma > 0.05) cv::GaussianBlur(layer, layer, {}, sigma);
  for (int row = 0; row < box->height; ++row) {
    const auto* from = layer.ptr<cv::Vec4f>(row);
    auto* to = picture.ptr<cv::Vec3w>(row + box->y) + box->x;
    for (int x = 0; x < box->width; ++x) {
      if (from[x][3] <= 0) continue;
      for (int k = 0; k < 3; ++k) {
        to[x][k] = cv::saturate_cast<ushort>((1 - from[x][3]) * static_cast<float>(to[x][k]) +
                                             kWhite * from[x][k]);
      }
    }
  }
}

}  // namespace nearpoint::simulate
