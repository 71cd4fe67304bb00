#include "vision/simulate/eyeball.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "vision/simulate/performance.h"
#include "vision/simulate/random.h"

namespace nearpoint::simulate {
namespace {

constexpr int kAngles = 512;
constexpr int kRadii = 64;
constexpr int kWhite = 256;
constexpr float kWhiteHalfMm = 12.5F;
constexpr float kPupilPlaneMm = 10.45F;  // entrance pupil, 3.05 mm behind the apex
constexpr float kCorneaMm = 7.8F;        // radius of curvature

float Smooth(float low, float high, float x) {
  const float t = std::clamp((x - low) / (high - low), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}
cv::Vec3f Mix(const cv::Vec3f& a, const cv::Vec3f& b, float t) { return a + (b - a) * t; }
cv::Vec3f Root(const cv::Vec3f& c) { return {std::sqrt(c[0]), std::sqrt(c[1]), std::sqrt(c[2])}; }

cv::Vec3f IrisBase(double tone) {  // BGR, linear
  constexpr int kStops = 5;
  const cv::Vec3f stops[kStops] = {{0.42F, 0.36F, 0.28F},    // pale blue grey
                                   {0.20F, 0.26F, 0.21F},    // green
                                   {0.085F, 0.17F, 0.22F},   // hazel
                                   {0.035F, 0.075F, 0.13F},  // brown
                                   {0.014F, 0.024F, 0.042F}};
  const double at = std::clamp(tone, 0.0, 1.0) * (kStops - 1);
  const int i = std::min(static_cast<int>(at), kStops - 2);
  return Mix(stops[i], stops[i + 1], static_cast<float>(at - i));
}

}  // namespace

EyePose MakeEyePose(const Eigen::Vector3d& centre_in_head_mm, const Eigen::Vector3d& gaze_in_head) {
  EyePose pose;
  pose.centre_mm = centre_in_head_mm.cast<float>();
  pose.gaze = gaze_in_head.cast<float>().normalized();
  pose.across = Eigen::Vector3f::UnitY().cross(pose.gaze).normalized();
  pose.up = pose.gaze.cross(pose.across);
  return pose;
}

Eyeball::Eyeball(const Appearance& appearance)
    : radius_(static_cast<float>(appearance.iris.mm() / 2)),
      ball_radius_(std::hypot(static_cast<float>(kLimbusMm), radius_)),
      iris_(kRadii, kAngles, CV_32FC3),
      white_(kWhite, kWhite, CV_32FC3) {
  Random random(appearance.texture_seed, 21);
  pupil_radius_ = static_cast<float>(random.Uniform(1.5, 2.1));
  transition_ = static_cast<float>(random.Uniform(0.45, 0.85));

  // Fibres: noise that changes fast round the iris and slowly along the radius.
  cv::Mat noise(kRadii / 8, kAngles, CV_32F);
  for (int i = 0; i < noise.rows * noise.cols; ++i) {
    noise.at<float>(i / kAngles, i % kAngles) = static_cast<float>(random.Normal());
  }
  cv::Mat fibres;
  cv::copyMakeBorder(noise, noise, 0, 0, 16, 16, cv::BORDER_WRAP);
  cv::GaussianBlur(noise, noise, {}, 1.4, 0.6);
  cv::resize(noise, fibres, cv::Size(noise.cols, kRadii), 0, 0, cv::INTER_CUBIC);
  const double collar = random.Uniform(0.46, 0.54);
  const double wave = random.Uniform(0, 6);
  const cv::Vec3f base = IrisBase(appearance.iris_tone);
  const cv::Vec3f warm = base.mul(cv::Vec3f(0.55F, 0.85F, 1.15F));
  const double pale = 1 - appearance.iris_tone;
  for (int row = 0; row < kRadii; ++row) {
    const double r = (row + 0.5) / kRadii;
    for (int col = 0; col < kAngles; ++col) {
      const double angle = 2 * std::numbers::pi * col / kAngles;
      const double edge = collar + 0.03 * std::sin(7 * angle + wave) + 0.02 * std::sin(13 * angle);
      const double inner = 1 - SmoothStep(edge - 0.05, edge + 0.06, r);
      double light = 1 + (0.40 + 0.15 * pale) * fibres.at<float>(row, col + 16);
      light *= 1 + 0.22 * std::exp(-std::pow((r - edge) / 0.05, 2));
      light *= 1 - 0.30 * SmoothStep(0.42, 0.30, r);
      light *= 1 - (0.45 + 0.2 * pale) * SmoothStep(0.80, 0.97, r);  // the dark limbal ring
      iris_.at<cv::Vec3f>(row, col) = Root(Mix(base, warm, static_cast<float>(0.75 * inner)) *
                                           static_cast<float>(std::max(0.15, light)));
    }
  }

  // The white: warm toward the corners, fine vessels.
  cv::Mat vessels = cv::Mat::zeros(kWhite, kWhite, CV_8U);
  for (int i = 0; i < 34; ++i) {
    const double side = i % 2 == 0 ? -1 : 1;
    double angle = random.Uniform(-0.55, 0.55);
    double r = random.Uniform(10.5, 12.0);
    const double end = random.Uniform(7.0, 9.5);
    cv::Point2d last;
    bool first = true;
    while (r > end) {
      const cv::Point2d p(128 + side * r * std::cos(angle) * 128 / kWhiteHalfMm,
                          128 + r * std::sin(angle) * 128 / kWhiteHalfMm);
      if (!first) {
        cv::line(vessels, last * 16, p * 16, cv::Scalar(random.Uniform(60, 200)), 1, cv::LINE_AA,
                 4);
      }
      first = false;
      last = p;
      r -= 0.35;
      angle += random.Normal() * 0.035;
    }
  }
  cv::GaussianBlur(vessels, vessels, {}, 0.7);
  for (int row = 0; row < kWhite; ++row) {
    for (int col = 0; col < kWhite; ++col) {
      const double x = (col - 127.5) / 128;
      const double y = (row - 127.5) / 128;
      const double out = std::hypot(x, y);
      cv::Vec3f c(0.49F, 0.515F, 0.55F);
      c = Mix(c, {0.34F, 0.38F, 0.52F}, static_cast<float>(0.7 * SmoothStep(0.55, 1.0, out)));
      c = Mix(c, {0.16F, 0.17F, 0.50F},
              static_cast<float>(0.55 * vessels.at<uchar>(row, col) / 255.0));
      white_.at<cv::Vec3f>(row, col) = Root(c);
    }
  }
}

cv::Vec3f Eyeball::IrisColour(float angle, float relative_radius) const {
  float a = angle * (kAngles / (2 * std::numbers::pi_v<float>));
  if (a < 0) a += kAngles;
  const float r = std::clamp(relative_radius * kRadii - 0.5F, 0.0F, kRadii - 1.001F);
  const int i = static_cast<int>(r);
  const int j = static_cast<int>(a);
  const float s = r - static_cast<float>(i);
  const float t = a - static_cast<float>(j);
  const int j0 = j & (kAngles - 1);
  const int j1 = (j + 1) & (kAngles - 1);
  return Mix(Mix(iris_.at<cv::Vec3f>(i, j0), iris_.at<cv::Vec3f>(i, j1), t),
             Mix(iris_.at<cv::Vec3f>(i + 1, j0), iris_.at<cv::Vec3f>(i + 1, j1), t), s);
}

cv::Vec3f Eyeball::WhiteColour(const Eigen::Vector3f& on_ball_in_eye) const {
  const auto index = [](float mm) {
    return std::clamp(static_cast<int>(std::lround(127.5F + mm * (128 / kWhiteHalfMm))), 0,
                      kWhite - 1);
  };
  return white_.at<cv::Vec3f>(index(-on_ball_in_eye.y()), index(on_ball_in_eye.x()));
}

cv::Vec3f Eyeball::Look(const EyePose& eye, const Eigen::Vector3f& origin,
                        const Eigen::Vector3f& ray, float soft_mm, const cv::Vec3f& white_light,
                        const cv::Vec3f& iris_light, const MirrorScene& scene) const {
  const Eigen::Vector3f from_centre = origin - eye.centre_mm;
  const float along = ray.dot(eye.gaze);  // negative: the eye looks toward the camera
  const float height = from_centre.dot(eye.gaze);

  // Where the ray cuts the plane of the limbus.
  float r = 1e3F;
  float x = 0;
  float y = 0;
  if (along < -0.05F) {
    const Eigen::Vector3f hit =
        from_centre + ray * ((static_cast<float>(kLimbusMm) - height) / along);
    x = hit.dot(eye.across);
    y = hit.dot(eye.up);
    r = std::hypot(x, y);
  }
  const float half = 0.5F * std::hypot(transition_, soft_mm);
  const float in_iris = 1 - Smooth(radius_ - half, radius_ + half, r);

  cv::Vec3f colour(0, 0, 0);
  if (in_iris < 1) {
    const float b = from_centre.dot(ray);
    const float inside = b * b - from_centre.squaredNorm() + ball_radius_ * ball_radius_;
    const Eigen::Vector3f hit = from_centre + ray * (-b - std::sqrt(std::max(0.0F, inside)));
    const Eigen::Vector3f in_eye(hit.dot(eye.across), hit.dot(eye.up), hit.dot(eye.gaze));
    colour = WhiteColour(in_eye).mul(white_light);
  }
  if (in_iris > 0) {
    cv::Vec3f iris = IrisColour(std::atan2(y, x), r / radius_).mul(iris_light);
    const Eigen::Vector3f hit = from_centre + ray * ((kPupilPlaneMm - height) / along);
    const float pupil_r = std::hypot(hit.dot(eye.across), hit.dot(eye.up));
    const float soft = 0.5F * std::hypot(0.12F, soft_mm);
    const float in_pupil = 1 - Smooth(pupil_radius_ - soft, pupil_radius_ + soft, pupil_r);
    iris = Mix(iris, cv::Vec3f(0.055F, 0.05F, 0.05F).mul(iris_light), in_pupil);
    colour = Mix(colour, iris, in_iris);
  }

  // The front of the cornea mirrors the window and the screen.
  const Eigen::Vector3f from_cornea =
      from_centre - eye.gaze * (static_cast<float>(kApexMm) - kCorneaMm);
  const float b = from_cornea.dot(ray);
  const float inside = b * b - from_cornea.squaredNorm() + kCorneaMm * kCorneaMm;
  if (r < radius_ - 0.6F && inside > 0) {
    const Eigen::Vector3f hit = from_cornea + ray * (-b - std::sqrt(inside));
    const Eigen::Vector3f normal = hit / kCorneaMm;
    const Eigen::Vector3f mirrored =
        scene.camera_from_head * Eigen::Vector3f(ray - 2 * ray.dot(normal) * normal);
    if (mirrored.z() < -0.02F) {
      const Eigen::Vector3f at =
          scene.camera_from_head *
              (hit + eye.centre_mm + eye.gaze * (static_cast<float>(kApexMm) - kCorneaMm)) +
          scene.eye_mid_in_camera_mm;
      const float spread = soft_mm * 2 / kCorneaMm;  // of mirrored directions within a pixel
      const auto patch = [&](float z, float x0, float x1, float y0, float y1, float bar) {
        const float reach = (z - at.z()) / mirrored.z();
        if (reach < 0) return 0.0F;
        const float px = at.x() + reach * mirrored.x();
        const float py = at.y() + reach * mirrored.y();
        const float soft = reach * (0.02F + spread);
        float lit = Smooth(x0 - soft, x0 + soft, px) * (1 - Smooth(x1 - soft, x1 + soft, px)) *
                    Smooth(y0 - soft, y0 + soft, py) * (1 - Smooth(y1 - soft, y1 + soft, py));
        if (bar > 0)
          lit *= 1 - 0.8F * (1 - Smooth(bar, bar + soft, std::abs(px - 0.5F * (x0 + x1))));
        return lit;
      };
      const float window = scene.window * patch(-900, -1000, -350, -1150, -350, 25);
      const float screen = scene.screen * patch(-5, -165, 165, 8, 200, 0);
      const float rim =
          1 - Smooth(radius_ - 1.3F, radius_ - 0.6F, r);  // leaves the limbus itself clean
      colour += cv::Vec3f(1, 1, 1) * (0.75F * window * rim) +
                cv::Vec3f(1.1F, 1.0F, 0.92F) * (0.10F * screen * rim);
    }
  }
  return colour;
}

}  // namespace nearpoint::simulate
