#include "models/eye_net/eye_picture.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

namespace nearpoint::eye_net {
namespace {

using Eigen::Vector2f;
using Eigen::Vector3f;
using simulate::Random;

constexpr int kOver = 2;  // samples a pixel, each way
constexpr float kFar = 1e9F;
constexpr float kLimbus = 10.86F;

float Smooth(float low, float high, float x) {
  const float t = std::clamp((x - low) / (high - low), 0.0F, 1.0F);
  return t * t * (3 - 2 * t);
}
float Hash(int x, int y, int z, std::uint32_t seed) {
  std::uint32_t h = static_cast<std::uint32_t>(x) * 73856093U ^
                    static_cast<std::uint32_t>(y) * 19349663U ^
                    static_cast<std::uint32_t>(z) * 83492791U ^ seed;
  h = (h ^ (h >> 13)) * 1274126177U;
  h ^= h >> 16;
  return static_cast<float>(h & 0xffff) / 65535.0F;
}
// Smooth noise of one octave, 0..1.
float Noise(const Vector3f& p, std::uint32_t seed) {
  const int i = static_cast<int>(std::floor(p.x())), j = static_cast<int>(std::floor(p.y())),
            k = static_cast<int>(std::floor(p.z()));
  float f[3] = {p.x() - static_cast<float>(i), p.y() - static_cast<float>(j),
                p.z() - static_cast<float>(k)};
  for (float& x : f) x = x * x * (3 - 2 * x);
  float sum = 0;
  for (int c = 0; c < 8; ++c) {
    const int a = c & 1, b = c >> 1 & 1, d = c >> 2;
    sum += Hash(i + a, j + b, k + d, seed) * (a != 0 ? f[0] : 1 - f[0]) *
           (b != 0 ? f[1] : 1 - f[1]) * (d != 0 ? f[2] : 1 - f[2]);
  }
  return sum;
}

class Painter {
 public:
  Painter(const Scene& scene, const Window& window, Random& random)
      : s_(scene),
        w_(window),
        random_(random),
        width_(window.width * kOver),
        height_(window.height * kOver),
        depth_(static_cast<std::size_t>(width_) * static_cast<std::size_t>(height_), kFar),
        id_(depth_.size(), -1),
        bary_(depth_.size()),
        light_(height_, width_, CV_32FC3),
        eye_(height_, width_, CV_8U, cv::Scalar(0)) {
    for (std::size_t e = 0; e < 2; ++e) {
      lens_[e] = s_.person->apex[e] + Vector3f(0, -s_.glasses.drop_mm, s_.glasses.vertex_mm);
    }
  }

  EyePicture Paint(const cv::Mat& background) {
    background_ = background;
    Project();
    Rasterize();
    Shade(background);
    ShadeEyesByLids();
    EyePicture out;
    Measure(&out);
    DrawLashesAndBrows();
    DrawStrands();
    DrawGlasses();
    Covered(&out);
    Expose(&out.bgr);
    return out;
  }

  // Samples of the window.
  [[nodiscard]] Vector2f ToWindow(const Vector3f& in_camera) const {
    const float f = 1000 * s_.focal / std::max(in_camera.z(), 1.0F);
    const Vector2f at(500 + f * in_camera.x(), 500 * s_.aspect + f * in_camera.y());
    const Vector2f px =
        (at - w_.middle) * w_.scale +
        Vector2f(static_cast<float>(w_.width - 1), static_cast<float>(w_.height - 1)) / 2;
    return (px + Vector2f(0.5F, 0.5F)) * kOver - Vector2f(0.5F, 0.5F);
  }
  [[nodiscard]] Vector3f RayOf(int x, int y) const {
    const Vector2f px =
        (Vector2f(static_cast<float>(x), static_cast<float>(y)) + Vector2f(0.5F, 0.5F)) / kOver -
        Vector2f(0.5F, 0.5F);
    const Vector2f at =
        (px - Vector2f(static_cast<float>(w_.width - 1), static_cast<float>(w_.height - 1)) / 2) /
            w_.scale +
        w_.middle;
    return {(at.x() - 500) / (1000 * s_.focal), (at.y() - 500 * s_.aspect) / (1000 * s_.focal), 1};
  }
  // Millimetres on the face to samples.
  [[nodiscard]] float PerMm() const {
    return 1000 * s_.focal / std::max(20.0F, s_.mid.z() - 5) * w_.scale * kOver;
  }

 private:
  const Scene& s_;
  const Window& w_;
  Random& random_;
  int width_, height_;
  std::array<Vector3f, 2> lens_;
  Points camera_, normal_, irradiance_;
  std::vector<Vector2f> at_;
  std::vector<float> depth_;
  std::vector<int> id_;
  std::vector<Vector2f> bary_;
  cv::Mat background_;
  cv::Mat light_, eye_;  // eye_: 1 + eye where the eye is seen
  std::array<EyeTruth, 2> truth_;

  [[nodiscard]] bool Behind(std::size_t eye) const {
    return s_.glasses.worn && s_.glasses.dioptres[eye] != 0;
  }
  // Where a thin lens shows a point behind it.
  [[nodiscard]] Vector3f Through(const Vector3f& p, std::size_t eye) const {
    const Vector3f to = p - lens_[eye];
    if (to.z() >= 0) return p;
    return lens_[eye] + to / (1 + s_.glasses.dioptres[eye] / 1000 * to.z());
  }
  [[nodiscard]] Vector3f Back(const Vector3f& p, std::size_t eye) const {
    const Vector3f to = p - lens_[eye];
    return lens_[eye] + to / (1 - s_.glasses.dioptres[eye] / 1000 * to.z());
  }
  [[nodiscard]] Vector2f Seen(const Vector3f& in_head, std::size_t eye) const {
    return ToWindow(s_.ToCamera(Behind(eye) ? Through(in_head, eye) : in_head));
  }

  void Project() {
    Points shown = s_.head;
    for (std::size_t e = 0; e < 2; ++e) {
      if (!Behind(e)) continue;
      for (Eigen::Index i = 0; i < shown.cols(); ++i) {
        const Vector3f to = shown.col(i) - lens_[e];
        if (to.z() >= 0 || to.z() < -60) continue;
        const float inside =
            std::pow(std::abs(to.x()) / s_.glasses.half_width_mm, s_.glasses.power) +
            std::pow(std::abs(to.y()) / s_.glasses.half_height_mm, s_.glasses.power);
        const float weight = 1 - Smooth(0.95F, 1.3F, inside);
        if (weight > 0) shown.col(i) += weight * (Through(shown.col(i), e) - shown.col(i));
      }
    }
    camera_ = (s_.camera_from_head * shown).colwise() + s_.mid;
    at_.resize(static_cast<std::size_t>(shown.cols()));
    for (Eigen::Index i = 0; i < shown.cols(); ++i)
      at_[static_cast<std::size_t>(i)] = ToWindow(camera_.col(i));
    // Normals and light in the head frame.
    normal_ = Points::Zero(3, shown.cols());
    for (const auto& t : s_.space->triangles) {
      const Vector3f n =
          (s_.head.col(t[1]) - s_.head.col(t[0])).cross(s_.head.col(t[2]) - s_.head.col(t[0]));
      for (const int v : t) normal_.col(v) += n;
    }
    irradiance_ = Points::Zero(3, shown.cols());
    const auto& directions = s_.person->directions;
    const Vector3f screen = s_.camera_from_head.transpose() * (s_.light.screen_in_camera - s_.mid);
    for (Eigen::Index i = 0; i < shown.cols(); ++i) {
      normal_.col(i).normalize();
      const Vector3f n = normal_.col(i);
      Vector3f sum = Vector3f::Zero();
      for (std::size_t k = 0; k < directions.size(); ++k) {
        if (s_.person->lit[k][static_cast<std::size_t>(i)] == 0) continue;
        const float cosine = (n.dot(directions[k]) + 0.15F) / 1.15F;
        if (cosine > 0) sum += cosine * s_.light.from[k];
      }
      sum *= 3.0F / static_cast<float>(directions.size());
      const Vector3f to = screen - s_.head.col(i);
      const float distance = std::max(90.0F, to.norm());
      sum += Vector3f(1.08F, 1.0F, 0.92F) *
             (s_.light.screen * std::min(3.0F, 160000 / (distance * distance)) *
              std::max(0.0F, n.dot(to) / distance));
      irradiance_.col(i) = sum;
    }
  }

  void Rasterize() {
    for (std::size_t t = 0; t < s_.space->triangles.size(); ++t) {
      const auto& v = s_.space->triangles[t];
      const float za = camera_(2, v[0]), zb = camera_(2, v[1]), zc = camera_(2, v[2]);
      if (za < 4 || zb < 4 || zc < 4) continue;
      const Vector2f &a = at_[static_cast<std::size_t>(v[0])],
                     &b = at_[static_cast<std::size_t>(v[1])],
                     &c = at_[static_cast<std::size_t>(v[2])];
      const int x0 = std::max(0, static_cast<int>(std::ceil(std::min({a.x(), b.x(), c.x()}))));
      const int x1 =
          std::min(width_ - 1, static_cast<int>(std::floor(std::max({a.x(), b.x(), c.x()}))));
      const int y0 = std::max(0, static_cast<int>(std::ceil(std::min({a.y(), b.y(), c.y()}))));
      const int y1 =
          std::min(height_ - 1, static_cast<int>(std::floor(std::max({a.y(), b.y(), c.y()}))));
      if (x0 > x1 || y0 > y1) continue;
      const float area = (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
      if (std::abs(area) < 1e-9F) continue;
      for (int y = y0; y <= y1; ++y) {
        for (int x = x0; x <= x1; ++x) {
          const float px = static_cast<float>(x) - a.x(), py = static_cast<float>(y) - a.y();
          const float l1 = (px * (c.y() - a.y()) - py * (c.x() - a.x())) / area;
          const float l2 = ((b.x() - a.x()) * py - (b.y() - a.y()) * px) / area;
          if (l1 < 0 || l2 < 0 || l1 + l2 > 1) continue;
          const float z = 1 / ((1 - l1 - l2) / za + l1 / zb + l2 / zc);
          const std::size_t o = static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) +
                                static_cast<std::size_t>(x);
          if (z >= depth_[o]) continue;
          depth_[o] = z;
          id_[o] = static_cast<int>(t);
          bary_[o] = {l1 * z / zb, l2 * z / zc};
        }
      }
    }
  }

  [[nodiscard]] Vector3f SkinAt(const Vector3f& p, float pixel_mm) const {
    const SkinLook& k = s_.skin;
    const HairLook& h = s_.hair;
    Vector3f c = k.base;
    const float fine = 1 - Smooth(0.3F, 1.2F, pixel_mm);
    c *= 1 + k.mottle * (Noise(p * 0.12F, k.seed) + 0.6F * Noise(p * 0.35F, k.seed + 1) - 0.8F);
    c.z() *= 1 + 0.6F * k.mottle * (Noise(p * 0.09F, k.seed + 2) - 0.5F);
    if (fine > 0) c *= 1 + fine * k.pores * (Noise(p * 1.6F, k.seed + 3) - 0.5F);
    if (k.freckles > 0) c *= 1 - k.freckles * Smooth(0.70F, 0.80F, Noise(p * 0.55F, k.seed + 4));
    const float ax = std::abs(p.x());
    const auto blob = [](float dx, float dy, float rx, float ry) {
      return std::exp(-0.5F * (dx * dx / (rx * rx) + dy * dy / (ry * ry)));
    };
    c *= 1 - k.circles * blob(ax - 26, p.y() + 15, 12, 6);
    c = c.cwiseProduct(Vector3f::Ones() -
                       k.lid_tint * blob(ax - 32, p.y() - 7, 15, 7) * Vector3f(0.6F, 0.55F, 0.3F));
    if (h.shadow > 0)
      c += static_cast<float>(h.shadow) * blob(ax - 33, p.y() - 8, 14, 6) * (h.shadow_colour - c);
    // Lips, beard, hair, cloth.
    c += 0.6F * blob(p.x(), p.y() + 72, 20, 7) *
         (k.base.cwiseProduct(Vector3f(0.55F, 0.45F, 0.85F)) - c);
    if (h.beard > 0 && p.y() < -45) {
      const float where = Smooth(-45, -58, p.y()) * (1 - 0.8F * blob(p.x(), p.y() + 72, 24, 9));
      const float stubble =
          Smooth(0.35F, 0.65F, Noise({p.x() * 2.2F, p.y() * 0.9F, p.z() * 2.2F}, k.seed + 5));
      c += where * static_cast<float>(h.beard) * (0.35F + 0.65F * stubble) * (h.colour - c);
    }
    const float back = Smooth(-30, -60, p.z());
    const float edge = 6 * (Noise(p * 0.3F, k.seed + 6) - 0.5F);
    const float hair = std::max(Smooth(-2, 4, p.y() + edge - static_cast<float>(h.hairline_mm)),
                                back * Smooth(-60, -40, p.y()));
    if (hair > 0) {
      const float strand =
          0.4F + 1.2F * Noise({p.x() * 1.4F, p.y() * 0.25F, p.z() * 0.6F}, k.seed + 7);
      c += hair * (h.colour * strand - c);
    }
    if (p.y() > h.cloth_mm - 0.25 * std::max(0.0F, ax - 45)) {
      c = h.cloth * (0.75F + 0.5F * Noise(p * 0.2F, k.seed + 8));
    }
    return c.cwiseMax(0.003F);
  }

  // What a ray meets inside the opening.
  [[nodiscard]] Vector3f EyeAt(std::size_t e, Vector3f origin, Vector3f ray,
                               const Vector3f& on_white, float pixel_mm) const {
    if (Behind(e)) {
      // The straight line behind the lens that is seen along this ray.
      const Vector3f a = origin + ray * ((lens_[e].z() - 6 - origin.z()) / ray.z());
      const Vector3f b = origin + ray * ((lens_[e].z() - 30 - origin.z()) / ray.z());
      origin = Back(a, e);
      ray = Back(b, e) - origin;
    }
    ray.normalize();
    const Vector3f& g = s_.gaze[e];
    const Vector3f across = Vector3f::UnitY().cross(g).normalized();
    const Vector3f up = g.cross(across);
    const Vector3f from = origin - s_.centre[e];
    const float along = ray.dot(g);
    float r = 1e3F, x = 0, y = 0;
    if (along < -0.05F) {
      const Vector3f hit = from + ray * ((kLimbus - from.dot(g)) / along);
      x = hit.dot(across);
      y = hit.dot(up);
      r = std::hypot(x, y);
    }
    const EyeLook& eye = s_.eye;
    Vector3f white = eye.white;
    const float vein = Smooth(
        0.62F, 0.8F, Noise(on_white * 0.9F, s_.skin.seed + 11 + static_cast<std::uint32_t>(e)));
    white = white.cwiseProduct(Vector3f::Ones() - eye.veins * vein * Vector3f(0.6F, 0.6F, 0.15F));
    const float half = 0.5F * std::hypot(eye.rim_mm, pixel_mm);
    const float in_iris = 1 - Smooth(eye.iris_mm - half, eye.iris_mm + half, r);
    Vector3f out = white;
    if (in_iris > 0) {
      const float rn = r / eye.iris_mm;
      const float angle = std::atan2(y, x);
      float tone =
          1 +
          eye.fibres *
              (Noise({8 * std::cos(angle), 8 * std::sin(angle), rn * 2}, s_.skin.seed + 13) +
               Noise({22 * std::cos(angle), 22 * std::sin(angle), rn * 3}, s_.skin.seed + 14) - 1);
      tone *= 1 - eye.ring * Smooth(0.72F, 0.95F, rn);
      Vector3f iris = eye.iris * std::max(0.1F, tone);
      const Vector3f pupil_hit = from + ray * ((10.45F - from.dot(g)) / along);
      const float pr = std::hypot(pupil_hit.dot(across), pupil_hit.dot(up));
      const float soft = 0.5F * std::hypot(0.15F, pixel_mm);
      iris *= Smooth(eye.pupil_mm - soft, eye.pupil_mm + soft, pr);
      iris = iris.cwiseMax(0.003F);
      out += in_iris * (iris - out);
    }
    // Lamps, windows and screens in the tear film; they may lie across the limbus.
    for (int i = 0; i < s_.light.corneal_count; ++i) {
      const auto& c = s_.light.corneal[static_cast<std::size_t>(i)];
      if (r > 50) continue;
      const float dx = std::abs(x - c[0]), dy = std::abs(y - c[1]);
      const float soft = std::max(0.15F, pixel_mm);
      const float lit = (1 - Smooth(c[2] - soft, c[2] + soft, dx)) *
                        (1 - Smooth(0.8F * c[2] - soft, 0.8F * c[2] + soft, dy));
      out += Vector3f::Ones() * (lit * c[3]);
    }
    return out;
  }

  void Shade(const cv::Mat& background) {
    const Vector3f origin = s_.camera_from_head.transpose() * -s_.mid;
    const cv::Mat& back = background;
    // The room in the units of the picture.
    Vector3f mean_light = Vector3f::Zero();
    for (const auto& l : s_.light.from) mean_light += l / static_cast<float>(s_.light.from.size());
    const float room = mean_light.mean() * static_cast<float>(std::exp(0.6 * random_.Normal()));
    for (int y = 0; y < height_; ++y) {
      auto* out = light_.ptr<cv::Vec3f>(y);
      for (int x = 0; x < width_; ++x) {
        const std::size_t o = static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) +
                              static_cast<std::size_t>(x);
        const int t = id_[o];
        if (t < 0) {
          const Vector3f ray = RayOf(x, y);
          const float u = (ray.x() * s_.focal + 0.5F) * static_cast<float>(back.cols - 1);
          const float v =
              (ray.y() * s_.focal / s_.aspect + 0.5F) * static_cast<float>(back.rows - 1);
          const int i = std::clamp(static_cast<int>(u), 0, back.cols - 1),
                    j = std::clamp(static_cast<int>(v), 0, back.rows - 1);
          const cv::Vec3b b = back.at<cv::Vec3b>(j, i);
          for (int k = 0; k < 3; ++k)
            out[x][k] = room * std::pow(static_cast<float>(b[k]) / 255.0F, 2.2F);
          continue;
        }
        const auto& v = s_.space->triangles[static_cast<std::size_t>(t)];
        const float l1 = bary_[o].x(), l2 = bary_[o].y(), l0 = 1 - l1 - l2;
        const auto mixed = [&](const Points& p) -> Vector3f {
          return l0 * p.col(v[0]) + l1 * p.col(v[1]) + l2 * p.col(v[2]);
        };
        Vector3f light = mixed(irradiance_);
        const float pixel_mm = depth_[o] / (1000 * s_.focal * w_.scale * kOver);
        Vector3f c;
        const Material m = s_.space->material[static_cast<std::size_t>(t)];
        if (m == Material::kLeftSclera || m == Material::kRightSclera) {
          const std::size_t e = m == Material::kLeftSclera ? 0 : 1;
          eye_.at<uchar>(y, x) = static_cast<uchar>(1 + e);
          const Vector3f ray = s_.camera_from_head.transpose() * RayOf(x, y);
          c = EyeAt(e, origin, ray, mixed(s_.head), pixel_mm).cwiseProduct(light);
        } else if (m == Material::kInside) {
          c = s_.skin.base.cwiseProduct(Vector3f(0.3F, 0.25F, 0.7F)).cwiseProduct(light) * 0.5F;
        } else {
          // Features stay where they are on the mean face.
          Vector3f place = mixed(s_.space->neutral) - Vector3f(0, 36.1F, 96.5F);
          const Vector3f n = mixed(normal_).normalized();
          c = SkinAt(place, pixel_mm).cwiseProduct(light);
          const Vector3f view = (origin - mixed(s_.head)).normalized();
          float shine = 0;
          for (std::size_t k = 0; k < s_.person->directions.size(); k += 3) {
            const float h = n.dot((s_.person->directions[k] + view).normalized());
            if (h > 0.8F) shine += std::pow(h, 24.0F) * s_.light.from[k].y();
          }
          c += Vector3f::Ones() * (s_.skin.gloss * shine * 0.15F);
        }
        out[x] = {c.x(), c.y(), c.z()};
      }
    }
  }

  // The upper lid and its lashes shade the eye.
  void ShadeEyesByLids() {
    const float mm = PerMm();
    const double sigma = std::clamp(1.6 * mm, 0.8, 30.0);
    cv::Mat lid, shade;
    cv::threshold(eye_, lid, 0, 1, cv::THRESH_BINARY_INV);
    lid.convertTo(lid, CV_32F);
    cv::GaussianBlur(lid, shade, {}, sigma);
    const cv::Mat shift = (cv::Mat_<double>(2, 3) << 1, 0, 0, 0, 1, 1.2 * mm);
    cv::warpAffine(shade, shade, shift, shade.size(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    const auto strength = static_cast<float>(random_.Uniform(0.3, 0.85));
    for (int y = 0; y < height_; ++y)
      for (int x = 0; x < width_; ++x)
        if (eye_.at<uchar>(y, x) != 0)
          light_.at<cv::Vec3f>(y, x) *= 1 - strength * std::min(1.0F, shade.at<float>(y, x));
  }

  [[nodiscard]] Vector2f Landmark(int i) const {
    return at_[static_cast<std::size_t>(s_.space->landmarks[static_cast<std::size_t>(i)])];
  }
  static Vector2f ToPixel(const Vector2f& sample) {
    return (sample + Vector2f(0.5F, 0.5F)) / kOver - Vector2f(0.5F, 0.5F);
  }
  [[nodiscard]] bool SeenAt(const Vector2f& p, std::size_t e) const {
    const int x = static_cast<int>(std::lround(p.x())), y = static_cast<int>(std::lround(p.y()));
    return x >= 0 && y >= 0 && x < width_ && y < height_ && eye_.at<uchar>(y, x) == 1 + e;
  }

  void Measure(EyePicture* out) {
    for (std::size_t e = 0; e < 2; ++e) {
      EyeTruth& t = truth_[e];
      const Vector3f middle = s_.centre[e] + kLimbus * s_.gaze[e];
      const Vector3f a = s_.gaze[e].unitOrthogonal(), b = s_.gaze[e].cross(a);
      const Vector2f centre = Seen(middle, e);
      float major = 0;
      int seen = 0;
      constexpr int kPoints = 64;
      for (int k = 0; k < kPoints; ++k) {
        const float angle = 2 * std::numbers::pi_v<float> * static_cast<float>(k) / kPoints;
        const Vector2f p =
            Seen(middle + s_.eye.iris_mm * (std::cos(angle) * a + std::sin(angle) * b), e);
        const Vector2f q =
            Seen(middle - s_.eye.iris_mm * (std::cos(angle) * a + std::sin(angle) * b), e);
        major = std::max(major, (p - q).norm() / 2);
        if (SeenAt(p, e)) ++seen;
      }
      t.iris = ToPixel(centre);
      t.radius = major / kOver;
      t.limbus_seen = static_cast<float>(seen) / kPoints;
      const Vector2f inner = Landmark(e == 0 ? 42 : 39), outer = Landmark(e == 0 ? 45 : 36);
      t.inner = ToPixel(inner);
      t.outer = ToPixel(outer);
      const Vector2f along = outer - inner;
      Vector2f down(-along.y(), along.x());
      down.normalize();
      if (down.y() < 0) down = -down;
      const int reach = static_cast<int>(0.6F * along.norm());
      float widest = 0;
      for (int k = 0; k < kLidColumns; ++k) {
        const Vector2f base = inner + along * (static_cast<float>(k) + 1) / (kLidColumns + 1);
        int first = 0, last = 0;
        bool any = false;
        for (int step = -reach; step <= reach; ++step) {
          if (!SeenAt(base + down * static_cast<float>(step), e)) continue;
          if (!any) first = step;
          last = step;
          any = true;
        }
        // Shut: both margins lie where the lids meet.
        float top = static_cast<float>(first), bottom = static_cast<float>(last);
        if (!any) {
          const int up0 = e == 0 ? 43 : 37, up1 = e == 0 ? 44 : 38, low0 = e == 0 ? 47 : 41,
                    low1 = e == 0 ? 46 : 40;
          const Vector2f lid =
              (Landmark(up0) + Landmark(up1) + Landmark(low0) + Landmark(low1)) / 4 -
              (inner + outer) / 2;
          const float bulge =
              1 - std::pow(2 * (static_cast<float>(k) + 1) / (kLidColumns + 1) - 1, 2.0F);
          top = bottom = lid.dot(down) * bulge;
        } else {
          widest = std::max(widest, bottom - top + 1);
        }
        t.upper[static_cast<std::size_t>(k)] = top / kOver;
        t.lower[static_cast<std::size_t>(k)] = bottom / kOver;
      }
      t.aperture = widest / std::max(1.0F, 2 * major);
    }
    out->eyes = truth_;
  }

  static cv::Point Fixed(const Vector2f& p) {
    return {cv::saturate_cast<int>(p.x() * 16), cv::saturate_cast<int>(p.y() * 16)};
  }
  // Adds a tapering, bent hair.
  void Hair(cv::Mat& mask, const Vector2f& root, const Vector2f& tip, float bend, float thick,
            int dark) const {
    const Vector2f across(-(tip - root).y(), (tip - root).x());
    const Vector2f knee = (root + tip) / 2 + bend * across;
    // Thinner than a sample: paler.
    const int width = std::max(1, static_cast<int>(std::lround(thick)));
    const double shade = dark * std::clamp(thick, 0.15F, 1.0F);
    cv::line(mask, Fixed(root), Fixed(knee), cv::Scalar(shade), width, cv::LINE_AA, 4);
    cv::line(mask, Fixed(knee), Fixed(tip), cv::Scalar(shade * 0.8), std::max(1, width - 1),
             cv::LINE_AA, 4);
  }
  void Blend(const cv::Mat& mask, const Vector3f& colour) {
    for (int y = 0; y < height_; ++y) {
      const auto* m = mask.ptr<uchar>(y);
      for (int x = 0; x < width_; ++x) {
        if (m[x] == 0) continue;
        const std::size_t o = static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) +
                              static_cast<std::size_t>(x);
        Vector3f light = Vector3f::Ones();
        if (id_[o] >= 0)
          light = irradiance_.col(s_.space->triangles[static_cast<std::size_t>(id_[o])][0]);
        const float a = static_cast<float>(m[x]) / 255;
        cv::Vec3f& p = light_.at<cv::Vec3f>(y, x);
        for (int k = 0; k < 3; ++k) p[k] += a * (colour[k] * light[k] - p[k]);
      }
    }
  }

  void DrawLashesAndBrows() {
    const HairLook& h = s_.hair;
    const float mm = PerMm();
    cv::Mat lashes(height_, width_, CV_8U, cv::Scalar(0)), brows = lashes.clone(),
                                                           folds = lashes.clone();
    for (std::size_t e = 0; e < 2; ++e) {
      const EyeTruth& t = truth_[e];
      const auto sample = [&](const Vector2f& px) -> Vector2f {
        return (px + Vector2f(0.5F, 0.5F)) * kOver - Vector2f(0.5F, 0.5F);
      };
      const Vector2f inner = sample(t.inner), outer = sample(t.outer);
      const Vector2f along = outer - inner;
      if (along.norm() < 3 || along.norm() > 4 * width_) continue;
      Vector2f down(-along.y(), along.x());
      down.normalize();
      if (down.y() < 0) down = -down;
      const auto margin = [&](const std::array<float, kLidColumns>& lid, float at) -> Vector2f {
        const float k = at * (kLidColumns + 1) - 1;
        const int i = std::clamp(static_cast<int>(std::floor(k)), -1, kLidColumns - 1);
        const auto value = [&](int j) {
          return j < 0 || j >= kLidColumns ? 0.0F : lid[static_cast<std::size_t>(j)];
        };
        const float part = k - static_cast<float>(i);
        return inner + along * at + down * ((value(i) * (1 - part) + value(i + 1) * part) * kOver);
      };
      const float shut = 1 - std::clamp(t.aperture / 0.35F, 0.0F, 1.0F);
      // The liner and the roots of the lashes.
      if (h.liner_mm > 0) {
        for (int k = 0; k < 24; ++k) {
          const float f0 = static_cast<float>(k) / 24, f1 = static_cast<float>(k + 1) / 24;
          const Vector2f up = -down * static_cast<float>(0.5 * h.liner_mm) * mm;
          cv::line(lashes, Fixed(margin(t.upper, f0) + up), Fixed(margin(t.upper, f1) + up),
                   cv::Scalar(210), std::max(1, static_cast<int>(std::lround(h.liner_mm * mm))),
                   cv::LINE_AA, 4);
        }
      }
      if (h.crease > 0) {
        const Vector2f up = -down * static_cast<float>(h.crease_mm) * mm;
        for (int k = 1; k < 22; ++k) {
          const float f0 = static_cast<float>(k) / 24, f1 = static_cast<float>(k + 1) / 24;
          cv::line(folds, Fixed(margin(t.upper, f0) + up), Fixed(margin(t.upper, f1) + up),
                   cv::Scalar(255 * h.crease), std::max(1, static_cast<int>(std::lround(0.7 * mm))),
                   cv::LINE_AA, 4);
        }
      }
      const int count = static_cast<int>(70 * h.lash_density);
      for (int k = 0; k < count; ++k) {
        const auto f = static_cast<float>(random_.Uniform(0.08, 1.0));
        const bool upper = random_.Uniform() > 0.35 || random_.Uniform() > h.lower_lashes * 2;
        const Vector2f root = margin(upper ? t.upper : t.lower, f);
        double lift = upper ? -(0.5 - 0.9 * h.lash_droop) : 0.6;
        if (upper) lift += 1.2 * shut;  // with the lid the lashes come down
        Vector2f way =
            down * static_cast<float>(lift + 0.2 * random_.Normal()) +
            along.normalized() * static_cast<float>(0.9 * (f - 0.45) + 0.15 * random_.Normal());
        const auto length =
            static_cast<float>((upper ? 0.75 : 0.4) * h.lash_length_mm * random_.Uniform(0.5, 1)) *
            mm;
        Hair(lashes, root, root + way * length, static_cast<float>(random_.Uniform(-0.15, 0.15)),
             static_cast<float>(h.lash_thick_mm) * mm, 235);
      }
      // The brow follows its landmarks, from the nose outward.
      const std::array<int, 5> points =
          e == 0 ? std::array<int, 5>{22, 23, 24, 25, 26} : std::array<int, 5>{21, 20, 19, 18, 17};
      const int hairs = static_cast<int>(160 * h.brow_density);
      for (int k = 0; k < hairs; ++k) {
        const auto f = static_cast<float>(random_.Uniform(0, 3.999));
        const int i = static_cast<int>(f);
        const Vector2f p0 = Landmark(points[static_cast<std::size_t>(i)]),
                       p1 = Landmark(points[static_cast<std::size_t>(i + 1)]);
        const Vector2f way = (p1 - p0).normalized();
        const float thin = 1 - 0.5F * f / 4;
        Vector2f root =
            p0 + (p1 - p0) * (f - static_cast<float>(i)) +
            down * static_cast<float>(
                       (-h.brow_raise_mm + thin * h.brow_thick_mm * random_.Uniform(-1, 1)) * mm);
        const auto length = static_cast<float>(h.brow_length_mm * random_.Uniform(0.5, 1)) * mm;
        const Vector2f tip =
            root + (way - down * static_cast<float>(random_.Uniform(-0.1, 0.7) * (1 - f / 4)))
                           .normalized() *
                       length;
        Hair(brows, root, tip, static_cast<float>(random_.Uniform(-0.1, 0.1)), 0.35F * mm, 215);
      }
    }
    if (h.crease > 0) {
      cv::GaussianBlur(folds, folds, {}, std::max(0.6, 0.5 * static_cast<double>(mm)));
      Blend(folds, s_.skin.base * 0.25F);
    }
    Blend(lashes, s_.hair.colour * 0.5F);
    Blend(brows, s_.hair.colour);
    lash_mask_ = lashes;
  }

  void DrawStrands() {
    const HairLook& h = s_.hair;
    if (h.strands == 0) return;
    const float mm = PerMm();
    cv::Mat mask(height_, width_, CV_8U, cv::Scalar(0));
    for (int k = 0; k < h.strands; ++k) {
      const auto x = static_cast<float>(h.strand_x_mm + h.strand_spread_mm * random_.Normal());
      const auto to = static_cast<float>(h.strand_y_mm + 6 * random_.Normal());
      const Vector3f root(x * 0.8F, 75, 15),
          tip(x + static_cast<float>(6 * random_.Normal()), to, 22);
      Hair(mask, ToWindow(s_.ToCamera(root)), ToWindow(s_.ToCamera(tip)),
           static_cast<float>(random_.Uniform(-0.15, 0.15)),
           static_cast<float>(random_.Uniform(0.15, 0.9)) * mm, 245);
    }
    Blend(mask, h.colour * static_cast<float>(random_.Uniform(0.7, 2)));
    strand_mask_ = mask;
  }

  void DrawGlasses() {
    const GlassesLook& g = s_.glasses;
    if (!g.worn) return;
    cv::Mat rim(height_, width_, CV_8U, cv::Scalar(0)), glass = rim.clone();
    const Eigen::Matrix3f tilt = Eigen::AngleAxisf(g.tilt, Vector3f::UnitX()).toRotationMatrix();
    std::array<std::vector<cv::Point>, 2> outline;
    const int thick = static_cast<int>(std::lround(g.rim_mm * PerMm()));
    const auto edge = [&](std::size_t e, float a) -> Vector2f {
      const float c = std::cos(a), s = std::sin(a);
      const Vector3f at(g.half_width_mm * std::copysign(std::pow(std::abs(c), 2 / g.power), c),
                        g.half_height_mm * std::copysign(std::pow(std::abs(s), 2 / g.power), s), 0);
      return ToWindow(s_.ToCamera(lens_[e] + tilt * at));
    };
    for (std::size_t e = 0; e < 2; ++e) {
      for (int k = 0; k < 64; ++k)
        outline[e].push_back(
            Fixed(edge(e, 2 * std::numbers::pi_v<float> * static_cast<float>(k) / 64)));
      cv::fillPoly(glass, std::vector<std::vector<cv::Point>>{outline[e]}, cv::Scalar(255),
                   cv::LINE_8, 4);
      if (thick > 0)
        cv::polylines(rim, std::vector<std::vector<cv::Point>>{outline[e]}, true, cv::Scalar(255),
                      thick, cv::LINE_AA, 4);
      // The side toward the ear.
      const float out = e == 0 ? 1 : -1;
      const Vector2f hinge =
          ToWindow(s_.ToCamera(lens_[e] + Vector3f(out * g.half_width_mm, 6, 0)));
      const Vector2f ear =
          ToWindow(s_.ToCamera(lens_[e] + Vector3f(out * (g.half_width_mm + 5), 5, -18)));
      cv::line(rim, Fixed(hinge), Fixed(ear), cv::Scalar(255), std::max(1, thick), cv::LINE_AA, 4);
    }
    const Vector2f b0 = ToWindow(s_.ToCamera(lens_[0] + Vector3f(-g.half_width_mm, 4, 0)));
    const Vector2f b1 = ToWindow(s_.ToCamera(lens_[1] + Vector3f(g.half_width_mm, 4, 0)));
    cv::line(rim, Fixed(b0), Fixed(b1), cv::Scalar(255), std::max(1, thick), cv::LINE_AA, 4);

    cv::Mat mirrored(height_, width_, CV_32F, cv::Scalar(g.veil));
    for (const auto& r : g.reflections) {
      for (std::size_t e = 0; e < 2; ++e) {
        const auto corner = [&](float sx, float sy) -> cv::Point {
          const float x = r.middle.x() + sx * r.half.x() + sy * r.slant * r.half.y(),
                      y = r.middle.y() + sy * r.half.y();
          return Fixed(ToWindow(
              s_.ToCamera(lens_[e] + Vector3f(x * g.half_width_mm, y * g.half_height_mm, 0))));
        };
        cv::Mat quad(height_, width_, CV_8U, cv::Scalar(0));
        cv::fillPoly(quad,
                     std::vector<std::vector<cv::Point>>{
                         {corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)}},
                     cv::Scalar(255), cv::LINE_AA, 4);
        cv::Mat part;
        quad.convertTo(part, CV_32F, static_cast<double>(r.light) / 255);
        mirrored += part;
      }
    }
    cv::GaussianBlur(mirrored, mirrored, {},
                     0.8 + 0.3 * static_cast<double>(PerMm()) * random_.Uniform());
    for (int y = 0; y < height_; ++y)
      for (int x = 0; x < width_; ++x)
        if (glass.at<uchar>(y, x) != 0)
          light_.at<cv::Vec3f>(y, x) += cv::Vec3f(1.03F, 1, 0.97F) * mirrored.at<float>(y, x);
    if (g.mirror > 0) {
      // A part of the room, turned over and shifted from lens to lens.
      const int w = background_.cols, h = background_.rows;
      for (int y = 0; y < height_; ++y) {
        for (int x = 0; x < width_; ++x) {
          if (glass.at<uchar>(y, x) == 0) continue;
          const cv::Vec3b b = background_.at<cv::Vec3b>(((y * h) / height_ + h / 3) % h,
                                                        w - 1 - ((x * w) / width_ * 3 / 2) % w);
          for (int k = 0; k < 3; ++k)
            light_.at<cv::Vec3f>(y, x)[k] +=
                g.mirror * std::pow(static_cast<float>(b[k]) / 255.0F, 2.2F);
        }
      }
    }
    if (thick > 0) Blend(rim, g.rim);
    rim_mask_ = rim;
    cv::Mat bright = mirrored > 0.35F;
    cv::bitwise_and(bright, glass, bright_);
  }

  void Covered(EyePicture* out) const {
    for (std::size_t e = 0; e < 2; ++e) {
      int all = 0, covered = 0;
      for (int y = 0; y < height_; ++y) {
        for (int x = 0; x < width_; ++x) {
          if (eye_.at<uchar>(y, x) != 1 + e) continue;
          ++all;
          const auto over = [&](const cv::Mat& mask) {
            return !mask.empty() && mask.at<uchar>(y, x) > 110;
          };
          if (over(strand_mask_) || over(rim_mask_) || over(bright_)) ++covered;
        }
      }
      out->eyes[e].covered = all > 0 ? static_cast<float>(covered) / static_cast<float>(all) : 0;
    }
  }

  // Cameras expose for the picture or for the face in it.
  void Expose(cv::Mat* bgr) const {
    const bool for_face = random_.Uniform() < 0.7;
    cv::Mat small;
    cv::resize(light_, small, {w_.width, w_.height}, 0, 0, cv::INTER_AREA);
    std::vector<float> level;
    for (int y = 0; y < small.rows; ++y)
      for (int x = 0; x < small.cols; ++x) {
        const std::size_t o =
            static_cast<std::size_t>(y * kOver) * static_cast<std::size_t>(width_) +
            static_cast<std::size_t>(x * kOver);
        if (!for_face || id_[o] >= 0)
          level.push_back(std::min(small.at<cv::Vec3f>(y, x)[1], 10.0F));
      }
    if (level.empty()) level.push_back(1);
    std::nth_element(level.begin(),
                     level.begin() + static_cast<std::ptrdiff_t>(level.size() * 3 / 4),
                     level.end());
    const float gain = 0.36F / std::max(1e-4F, level[level.size() * 3 / 4]);
    bgr->create(small.rows, small.cols, CV_8UC3);
    for (int y = 0; y < small.rows; ++y) {
      for (int x = 0; x < small.cols; ++x) {
        const cv::Vec3f v = small.at<cv::Vec3f>(y, x) * gain;
        for (int k = 0; k < 3; ++k)
          bgr->at<cv::Vec3b>(y, x)[k] =
              cv::saturate_cast<uchar>(255 * std::pow(std::clamp(v[k], 0.0F, 1.0F), 1 / 2.2F));
      }
    }
  }

  cv::Mat lash_mask_, strand_mask_, rim_mask_, bright_;
};

}  // namespace

EyePicture DrawEyes(const Scene& scene, const Window& window, const cv::Mat& background,
                    Random& random) {
  return Painter(scene, window, random).Paint(background);
}

Window AroundPoint(const Scene& scene, const Vector3f& in_head, float radius_px, int width,
                   int height) {
  const Vector3f at = scene.ToCamera(in_head);
  const float f = 1000 * scene.focal / std::max(at.z(), 10.0F);
  Window w;
  w.middle = {500 + f * at.x(), 500 * scene.aspect + f * at.y()};
  w.scale = radius_px / (f * scene.eye.iris_mm);
  w.width = width;
  w.height = height;
  return w;
}

Window AroundEye(const Scene& scene, int eye, float radius_px, int width, int height) {
  const auto point = [&](int i) -> Vector3f {
    return scene.head.col(scene.space->landmarks[static_cast<std::size_t>(i)]);
  };
  return AroundPoint(scene, (point(eye == 0 ? 42 : 36) + point(eye == 0 ? 45 : 39)) / 2, radius_px,
                     width, height);
}

}  // namespace nearpoint::eye_net
