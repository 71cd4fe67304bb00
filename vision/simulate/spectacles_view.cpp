#include "vision/simulate/spectacles_view.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <vector>

#include "vision/simulate/light_scale.h"
#include "vision/simulate/projection.h"

namespace nearpoint::simulate {
namespace {

constexpr int kShift = 4;
constexpr double kNearestMm = 4;
constexpr int kOutline = 96;
const cv::Vec3f kFrame(0.020F, 0.020F, 0.025F);

// Polygons that grow over the picture's border are cut there by fillPoly; beyond this they
// overflow.
constexpr double kFarthestPx = 20000;

std::optional<cv::Point> Pixel(const SpectaclesScene& scene, const Eigen::Vector3d& in_camera) {
  if (in_camera.z() < kNearestMm) return std::nullopt;
  const Eigen::Vector2d px = Project(scene.camera, in_camera);
  if (!(px.norm() < kFarthestPx)) return std::nullopt;
  return cv::Point(static_cast<int>(std::lround(px.x() * (1 << kShift))),
                   static_cast<int>(std::lround(px.y() * (1 << kShift))));
}

std::vector<cv::Point> Polygon(const SpectaclesScene& scene,
                               const std::vector<Eigen::Vector3d>& in_camera) {
  std::vector<cv::Point> points;
  for (const Eigen::Vector3d& p : in_camera) {
    const auto px = Pixel(scene, p);
    if (!px) return {};
    points.push_back(*px);
  }
  return points;
}

void Fill(const std::vector<cv::Point>& polygon, cv::Mat& mask) {
  if (!polygon.empty())
    cv::fillPoly(mask, std::vector{polygon}, cv::Scalar(255), cv::LINE_AA, kShift);
}

template <typename Change>
void Where(const cv::Mat& mask, cv::Mat& picture, const Change& change) {
  for (int y = 0; y < picture.rows; ++y) {
    const uchar* m = mask.ptr<uchar>(y);
    cv::Vec3w* p = picture.ptr<cv::Vec3w>(y);
    for (int x = 0; x < picture.cols; ++x) {
      if (m[x] == 0) continue;
      const float share = static_cast<float>(m[x]) / 255;
      for (int k = 0; k < 3; ++k) {
        p[x][k] = cv::saturate_cast<ushort>(
            change(static_cast<float>(p[x][k]), share, cv::Point(x, y), k));
      }
    }
  }
}

}  // namespace

LensView::LensView(const Spectacles& spectacles, double pd_mm, const PatientState& state)
    : lenses(LensesOf(spectacles, pd_mm)),
      camera(state.camera_from_head.transpose() * -state.eye_mid_mm) {}

Eigen::Vector3d LensView::Apparent(const Eigen::Vector3d& in_head) const {
  return lenses[in_head.x() > 0 ? kLeft : kRight].Apparent(camera, in_head);
}

LensBeforeEye::Ray LensView::Behind(int eye, const Eigen::Vector3d& direction) const {
  return lenses[static_cast<std::size_t>(eye)].Behind(camera, direction);
}

void DrawSpectacles(const Spectacles& spectacles, const LensView& view,
                    const SpectaclesScene& scene, const cv::Mat& behind, cv::Mat& picture) {
  const Eigen::Matrix3d& rotation = scene.state.camera_from_head;
  const auto in_camera = [&](const Eigen::Vector3d& p) -> Eigen::Vector3d {
    return rotation * p + scene.state.eye_mid_mm;
  };
  const double rim = spectacles.rim.mm();
  cv::Mat frame = cv::Mat::zeros(picture.size(), CV_8U);
  for (const int eye : {kLeft, kRight}) {
    const LensBeforeEye& lens = view.lenses[static_cast<std::size_t>(eye)];
    const auto outline = [&](double grow) {
      std::vector<Eigen::Vector3d> points;
      for (int i = 0; i < kOutline; ++i) {
        const double a = 2 * std::numbers::pi * i / kOutline;
        points.push_back(in_camera(lens.At((spectacles.half_width.mm() + grow) * std::cos(a),
                                           (spectacles.half_height.mm() + grow) * std::sin(a))));
      }
      return Polygon(scene, points);
    };
    cv::Mat inside = cv::Mat::zeros(picture.size(), CV_8U);
    Fill(outline(0), inside);
    Where(inside, picture, [&](float before, float share, const cv::Point& at, int k) {
      return before + (static_cast<float>(behind.at<cv::Vec3w>(at)[k]) - before) * share;
    });
    // The flat mirror of the lens plane shows things beside the camera as far behind it.
    const Eigen::Vector3d normal = rotation * lens.normal();
    const Eigen::Vector3d on_lens = in_camera(lens.At(0, 0));
    const auto mirror = [&](const std::vector<Eigen::Vector3d>& thing, const cv::Vec3f& light) {
      std::vector<Eigen::Vector3d> images;
      for (const Eigen::Vector3d& p : thing)
        images.emplace_back(p - 2 * (p - on_lens).dot(normal) * normal);
      cv::Mat glare = cv::Mat::zeros(picture.size(), CV_8U);
      Fill(Polygon(scene, images), glare);
      cv::blur(glare, glare, cv::Size(5, 5));
      cv::min(glare, inside, glare);
      const auto white = static_cast<float>(spectacles.mirrors * kWhite);
      Where(glare, picture, [&](float before, float share, const cv::Point&, int k) {
        return before + white * light[k] * share;
      });
    };
    mirror({{-150, 12, 0}, {150, 12, 0}, {150, 200, 0}, {-150, 200, 0}},
           cv::Vec3f(1.1F, 1, 0.9F) * (1.5F * scene.screen));
    mirror({{-390, -420, -900}, {-210, -420, -900}, {-210, -240, -900}, {-390, -240, -900}},
           cv::Vec3f(1, 1, 0.94F) * (8 * scene.window));
    if (rim <= 0) continue;
    cv::Mat ring = cv::Mat::zeros(picture.size(), CV_8U);
    Fill(outline(rim), ring);
    cv::subtract(ring, inside, ring);
    cv::max(frame, ring, frame);
  }
  // Bridge and the pieces toward the ears; of rimless glasses a thin wire.
  const double wire = std::max(rim, 0.8);
  const auto bar = [&](const Eigen::Vector3d& from, const Eigen::Vector3d& to) {
    const Eigen::Vector3d half(0, wire / 2, 0);
    Fill(Polygon(scene, {in_camera(from - half), in_camera(to - half), in_camera(to + half),
                         in_camera(from + half)}),
         frame);
  };
  const double w = spectacles.half_width.mm() + rim / 2;
  bar(view.lenses[kLeft].At(-w, 3), view.lenses[kRight].At(w, 3));
  for (const int eye : {kLeft, kRight}) {
    const double side = SideSign(eye);
    const Eigen::Vector3d hinge = view.lenses[static_cast<std::size_t>(eye)].At(side * w, 6);
    bar(hinge, hinge + Eigen::Vector3d(side * 6, 0, -14));
  }
  Where(frame, picture, [&](float before, float share, const cv::Point&, int k) {
    return before + (static_cast<float>(kWhite) * kFrame[k] * scene.light - before) * 0.97F * share;
  });
}

}  // namespace nearpoint::simulate
