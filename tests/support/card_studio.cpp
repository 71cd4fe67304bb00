#include "tests/support/card_studio.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "vision/card/draw_pattern.h"

namespace nearpoint::drawn {
namespace {

Eigen::Vector2d Bent(const CameraIntrinsics& c, const Eigen::Vector2d& n) {
  const double x = n.x(), y = n.y(), r2 = x * x + y * y;
  const double k1 = c.distortion[0], k2 = c.distortion[1], p1 = c.distortion[2];
  const double p2 = c.distortion[3], k3 = c.distortion[4];
  const double q = 1 + k1 * r2 + k2 * r2 * r2 + k3 * r2 * r2 * r2;
  return {x * q + 2 * p1 * x * y + p2 * (r2 + 2 * x * x),
          y * q + p1 * (r2 + 2 * y * y) + 2 * p2 * x * y};
}

// Direction (x/z, y/z) of a pixel, by Newton steps with a numeric derivative.
Eigen::Vector2d RayOf(const CameraIntrinsics& c, double u, double v) {
  const Eigen::Vector2d wanted((u - c.cx) / c.fx, (v - c.cy) / c.fy);
  Eigen::Vector2d n = wanted;
  for (int i = 0; i < 8; ++i) {
    constexpr double h = 1e-6;
    const Eigen::Vector2d at = Bent(c, n);
    Eigen::Matrix2d slope;
    slope.col(0) = (Bent(c, n + Eigen::Vector2d(h, 0)) - at) / h;
    slope.col(1) = (Bent(c, n + Eigen::Vector2d(0, h)) - at) / h;
    n -= slope.inverse() * (at - wanted);
  }
  return n;
}

// Where the ray meets the card, in its millimetres.
Eigen::Vector2d Meet(const DrawnCard& card, const CardPose& pose, const Eigen::Vector2d& ray) {
  const Eigen::Matrix3d card_from_camera = pose.camera_from_card.transpose();
  const Eigen::Vector3d origin = -card_from_camera * pose.middle_in_camera_mm;
  const Eigen::Vector3d way = card_from_camera * Eigen::Vector3d(ray.x(), ray.y(), 1);
  Eigen::Vector2d at = (origin - way * (origin.z() / way.z())).head<2>();
  if (card.bow_mm == 0 && card.bow_y_mm == 0) return at;
  for (int i = 0; i < 6; ++i) {
    const double x = at.x() / (card.width_mm / 2), y = at.y() / (card.height_mm / 2);
    const double z = -card.bow_mm * x * x - card.bow_y_mm * y * y;
    at = (origin + way * ((z - origin.z()) / way.z())).head<2>();
  }
  return at;
}

// Share of the area about a point (size of a sample small against 1 mm) that the card covers.
double Covered(const DrawnCard& card, const Eigen::Vector2d& at, double softness_mm) {
  const double r = card.corner_radius_mm;
  const double x = std::abs(at.x()) - card.width_mm / 2 + r;
  const double y = std::abs(at.y()) - card.height_mm / 2 + r;
  double outside = std::max(x, y) - r;
  if (r > 0 && x > 0 && y > 0) outside = std::hypot(x, y) - r;
  return std::clamp(0.5 - outside / softness_mm, 0.0, 1.0);
}

void Put(const CameraIntrinsics& camera, const PlacedCard& placed, int fine, cv::Mat& light) {
  const DrawnCard& card = *placed.card;
  // The part of the picture that can show the card.
  double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9;
  for (int i = 0; i <= 20; ++i) {
    for (const double side : {-0.5, 0.5}) {
      const double t = i / 20.0 - 0.5;
      for (const Eigen::Vector2d& mm :
           {Eigen::Vector2d(t * card.width_mm, side * card.height_mm),
            Eigen::Vector2d(side * card.width_mm, t * card.height_mm)}) {
        const Eigen::Vector2d px = TruePixel(camera, placed.pose, mm);
        left = std::min(left, px.x()), right = std::max(right, px.x());
        top = std::min(top, px.y()), bottom = std::max(bottom, px.y());
      }
    }
  }
  const int margin = 12;
  const int x0 = std::max(0, static_cast<int>(left) - margin);
  const int y0 = std::max(0, static_cast<int>(top) - margin);
  const int x1 = std::min(camera.width, static_cast<int>(right) + margin);
  const int y1 = std::min(camera.height, static_cast<int>(bottom) + margin);
  if (x1 <= x0 || y1 <= y0) return;

  // Card millimetres at every fourth pixel; between them they are as good as straight.
  constexpr int kStep = 4;
  const int columns = (x1 - x0) / kStep + 2, rows = (y1 - y0) / kStep + 2;
  std::vector<Eigen::Vector2d> grid(static_cast<std::size_t>(columns) *
                                    static_cast<std::size_t>(rows));
  const auto cell = [&](int i, int j) -> Eigen::Vector2d& {
    return grid[static_cast<std::size_t>(j) * static_cast<std::size_t>(columns) +
                static_cast<std::size_t>(i)];
  };
  for (int j = 0; j < rows; ++j) {
    for (int i = 0; i < columns; ++i) {
      cell(i, j) = Meet(card, placed.pose, RayOf(camera, x0 + i * kStep, y0 + j * kStep));
    }
  }
  const double softness =
      placed.pose.middle_in_camera_mm.z() / camera.fx / fine;  // one fine pixel in millimetres
  const double cx = (card.picture.cols - 1) / 2.0, cy = (card.picture.rows - 1) / 2.0;
  for (int y = y0; y < y1; ++y) {
    for (int x = x0; x < x1; ++x) {
      double sum = 0, covered = 0;
      for (int b = 0; b < fine; ++b) {
        for (int a = 0; a < fine; ++a) {
          const double u = (x - x0 + (a + 0.5) / fine - 0.5) / kStep;
          const double v = (y - y0 + (b + 0.5) / fine - 0.5) / kStep;
          const int i = std::clamp(static_cast<int>(std::floor(u)), 0, columns - 2);
          const int j = std::clamp(static_cast<int>(std::floor(v)), 0, rows - 2);
          const double fu = u - i, fv = v - j;
          const Eigen::Vector2d mm = (1 - fv) * ((1 - fu) * cell(i, j) + fu * cell(i + 1, j)) +
                                     fv * ((1 - fu) * cell(i, j + 1) + fu * cell(i + 1, j + 1));
          const double share = Covered(card, mm, softness);
          if (share <= 0) continue;
          const double tx =
              std::clamp(cx + mm.x() * card.dots_per_mm, 0.0, card.picture.cols - 1.001);
          const double ty =
              std::clamp(cy + mm.y() * card.dots_per_mm, 0.0, card.picture.rows - 1.001);
          const int ix = static_cast<int>(tx), iy = static_cast<int>(ty);
          const double ax = tx - ix, ay = ty - iy;
          const float* row = card.picture.ptr<float>(iy);
          const float* next = card.picture.ptr<float>(iy + 1);
          sum += share * ((1 - ay) * ((1 - ax) * row[ix] + ax * row[ix + 1]) +
                          ay * ((1 - ax) * next[ix] + ax * next[ix + 1]));
          covered += share;
        }
      }
      if (covered <= 0) continue;
      auto& pixel = light.at<float>(y, x);
      const double n = static_cast<double>(fine) * fine;
      pixel = static_cast<float>(sum / n + pixel * (1 - covered / n));
    }
  }
}

double Coded(double linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}

}  // namespace

DrawnCard PatternCard(double print_scale) {
  DrawnCard card;
  card.dots_per_mm = 12 / print_scale;
  cv::Mat ink = DrawCardPattern(12);
  // Paper and black ink.
  ink.convertTo(card.picture, CV_32F, 0.68 / 255, 0.04);
  card.width_mm *= print_scale;
  card.height_mm *= print_scale;
  return card;
}

DrawnCard BankCard(double brightness, bool printed, double width_mm, double height_mm) {
  DrawnCard card;
  card.width_mm = width_mm;
  card.height_mm = height_mm;
  card.corner_radius_mm = 3.18;
  card.thickness_mm = 0.76;
  card.wall = 0.7 * brightness;
  const auto d = card.dots_per_mm;
  card.picture = cv::Mat(static_cast<int>(height_mm * d), static_cast<int>(width_mm * d), CV_32F,
                         cv::Scalar(brightness));
  if (!printed) return card;
  const auto box = [&](double x, double y, double w, double h, double value) {
    cv::rectangle(card.picture,
                  cv::Rect(static_cast<int>(x * d), static_cast<int>(y * d),
                           static_cast<int>(w * d), static_cast<int>(h * d)),
                  cv::Scalar(value), cv::FILLED, cv::LINE_AA);
  };
  const double other = brightness > 0.4 ? brightness * 0.5 : brightness + 0.3;
  box(10, 18, 12, 9, other);
  for (int i = 0; i < 16; ++i) {
    const int group = i / 4;
    box(10 + i * 4.0 + group * 1.5, 32, 2.4, 3.6, other);
  }
  for (int i = 0; i < 11; ++i) box(10 + i * 2.6, 43, 1.7, 2.4, other);
  cv::circle(card.picture, cv::Point(static_cast<int>(70 * d), static_cast<int>(42 * d)),
             static_cast<int>(5 * d), cv::Scalar(other), cv::FILLED, cv::LINE_AA);
  return card;
}

cv::Mat TakeSheetPicture(const CameraIntrinsics& camera, double print_scale, double tilt_deg,
                         double real_card_mm) {
  const DrawnCard paper = BankCard(0.68, false, 280, 140);
  const DrawnCard pattern = PatternCard(print_scale);
  const DrawnCard real = BankCard(0.25, true, real_card_mm, real_card_mm * 53.98 / 85.60);
  CardPose sheet;
  sheet.camera_from_card =
      Eigen::AngleAxisd(tilt_deg * std::numbers::pi / 180, Eigen::Vector3d(1, 0.4, 0).normalized())
          .toRotationMatrix();
  sheet.middle_in_camera_mm = {-3, 4, 230};
  const auto on_sheet = [&](double x, double over) {
    CardPose pose = sheet;
    pose.middle_in_camera_mm += sheet.camera_from_card * Eigen::Vector3d(x, 0, -over);
    return pose;
  };
  CardScene scene;
  scene.shading = 0.1;
  // On the sheet the two stand 100.4 mm apart.
  return TakePicture(camera,
                     {{&paper, sheet},
                      {&pattern, on_sheet(-50.2 * print_scale, 0)},
                      {&real, on_sheet(50.2 * print_scale, 0.76)}},
                     scene);
}

Eigen::Vector2d TruePixel(const CameraIntrinsics& camera, const CardPose& pose,
                          const Eigen::Vector2d& card_mm) {
  const Eigen::Vector3d at = pose.camera_from_card * Eigen::Vector3d(card_mm.x(), card_mm.y(), 0) +
                             pose.middle_in_camera_mm;
  const Eigen::Vector2d bent = Bent(camera, at.head<2>() / at.z());
  return {camera.fx * bent.x() + camera.cx, camera.fy * bent.y() + camera.cy};
}

cv::Mat TakePicture(const CameraIntrinsics& camera, const std::vector<PlacedCard>& cards,
                    const CardScene& scene) {
  constexpr int kFine = 3;
  cv::Mat light(camera.height, camera.width, CV_32F, cv::Scalar(scene.background));
  cv::RNG rng(scene.seed);
  if (scene.clutter > 0) {
    cv::Mat coarse(camera.height / 40 + 2, camera.width / 40 + 2, CV_32F), soft;
    rng.fill(coarse, cv::RNG::UNIFORM, -scene.clutter, scene.clutter);
    cv::resize(coarse, soft, light.size(), 0, 0, cv::INTER_CUBIC);
    light += soft;
  }
  for (const PlacedCard& card : cards) {
    if (card.card->thickness_mm > 0) {
      // The back of the card in the walls' brightness; the face then hides all but the walls.
      DrawnCard back = *card.card;
      back.picture = cv::Mat(back.picture.size(), CV_32F, cv::Scalar(back.wall));
      PlacedCard behind{&back, card.pose};
      constexpr int kLayers = 4;
      for (int i = kLayers; i > 0; --i) {
        behind.pose.middle_in_camera_mm =
            card.pose.middle_in_camera_mm +
            card.pose.camera_from_card.col(2) * (back.thickness_mm * i / kLayers);
        Put(camera, behind, kFine, light);
      }
    }
    Put(camera, card, kFine, light);
  }
  for (int x = 0; x < light.cols; ++x) {
    light.col(x) *= 1 + scene.shading * (0.5 - static_cast<double>(x) / light.cols);
  }
  if (scene.cover) scene.cover(light);
  if (scene.blur_px > 0) cv::GaussianBlur(light, light, cv::Size(), scene.blur_px);
  cv::Mat noise(light.size(), CV_32F, cv::Scalar(0));
  if (scene.noise_codes > 0) rng.fill(noise, cv::RNG::NORMAL, 0, scene.noise_codes);
  cv::Mat coded(light.size(), CV_8U);
  // The curve at 4096 steps: finer than the noise.
  static const std::vector<float> curve = [] {
    std::vector<float> c(4097);
    for (std::size_t i = 0; i < c.size(); ++i) {
      c[i] = static_cast<float>(255 * Coded(static_cast<double>(i) / 4096));
    }
    return c;
  }();
  for (int y = 0; y < light.rows; ++y) {
    const float* in = light.ptr<float>(y);
    const float* grain = noise.ptr<float>(y);
    auto* out = coded.ptr<std::uint8_t>(y);
    for (int x = 0; x < light.cols; ++x) {
      const float place = std::clamp(in[x], 0.0F, 1.0F) * 4096;
      const auto index = static_cast<std::size_t>(place);
      const float part = place - static_cast<float>(index);
      const float code =
          curve[index] + part * (curve[std::min<std::size_t>(index + 1, 4096)] - curve[index]);
      out[x] = cv::saturate_cast<std::uint8_t>(code + grain[x]);
    }
  }
  return coded;
}

CameraIntrinsics DrawCamera(std::mt19937_64& random) {
  const auto uniform = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const auto normal = [&](double sd) { return std::normal_distribution<double>(0, sd)(random); };
  CameraIntrinsics camera;
  camera.width = 1280;
  camera.height = 720;
  const double view = uniform(55, 78) * std::numbers::pi / 180;
  camera.fx = 640 / std::tan(view / 2);
  camera.fy = camera.fx * (1 + normal(0.0003));
  camera.cx = 639.5 + normal(15);
  camera.cy = 359.5 + normal(12);
  camera.distortion = {uniform(-0.15, 0.08), uniform(-0.05, 0.08), normal(0.0006), normal(0.0006),
                       0};
  return camera;
}

std::vector<CardPose> DrawPoses(const CameraIntrinsics& camera, int count, std::mt19937_64& random,
                                double tilt_deg, double fill) {
  const auto uniform = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  std::vector<CardPose> poses;
  while (static_cast<int>(poses.size()) < count) {
    const auto i = static_cast<double>(poses.size());
    // Around the compass, each with the chance of a hand; every sixth view nearly square.
    const double way = i * 2.4 + uniform(-0.4, 0.4);
    const double tilt =
        (static_cast<int>(i) % 6 == 5 ? uniform(2, 8) : uniform(0.75, 1.2) * tilt_deg) *
        std::numbers::pi / 180;
    CardPose pose;
    pose.camera_from_card =
        (Eigen::AngleAxisd(tilt, Eigen::Vector3d(std::cos(way), std::sin(way), 0)) *
         Eigen::AngleAxisd(uniform(-0.35, 0.35), Eigen::Vector3d::UnitZ()))
            .toRotationMatrix();
    const double width_px = camera.width * fill * uniform(0.8, 1.3);
    const double z = camera.fx * 85.6 / width_px;
    const Eigen::Vector2d px(camera.width * (0.5 + 0.3 * std::cos(i * 1.7) * uniform(0.3, 1)),
                             camera.height * (0.5 + 0.28 * std::sin(i * 1.7) * uniform(0.3, 1)));
    pose.middle_in_camera_mm = z * RayOf(camera, px.x(), px.y()).homogeneous();
    bool inside = true;
    for (const double sx : {-0.5, 0.5}) {
      for (const double sy : {-0.5, 0.5}) {
        const Eigen::Vector2d corner = TruePixel(camera, pose, {sx * 85.6, sy * 53.98});
        inside = inside && corner.x() > 12 && corner.y() > 12 && corner.x() < camera.width - 12 &&
                 corner.y() < camera.height - 12;
      }
    }
    if (inside) poses.push_back(pose);
  }
  return poses;
}

}  // namespace nearpoint::drawn
