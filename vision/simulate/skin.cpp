#include "vision/simulate/skin.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "vision/simulate/random.h"

namespace nearpoint::simulate {
namespace {

double Gauss(double x, double sigma) { return std::exp(-0.5 * x * x / (sigma * sigma)); }

cv::Vec3f Mix(const cv::Vec3f& a, const cv::Vec3f& b, double t) {
  return a + (b - a) * static_cast<float>(std::clamp(t, 0.0, 1.0));
}

// A periodic noise image, unit variance, looked up in millimetres of the head frame.
class NoiseTile {
 public:
  NoiseTile(Random& random, double grain_mm, double texel_mm) : texel_mm_(texel_mm) {
    cv::Mat white(kSize, kSize, CV_32F);
    for (int i = 0; i < kSize * kSize; ++i) {
      white.at<float>(i / kSize, i % kSize) = static_cast<float>(random.Normal());
    }
    const int border = 64;
    cv::Mat wide;
    cv::copyMakeBorder(white, wide, border, border, border, border, cv::BORDER_WRAP);
    cv::GaussianBlur(wide, wide, {}, grain_mm / texel_mm);
    tile_ = wide(cv::Rect(border, border, kSize, kSize)).clone();
    cv::Scalar mean;
    cv::Scalar sd;
    cv::meanStdDev(tile_, mean, sd);
    tile_ = (tile_ - mean[0]) / sd[0];
  }
  [[nodiscard]] float At(double x, double y) const {
    const auto wrap = [&](double v) {
      return static_cast<int>(std::floor(v / texel_mm_)) & (kSize - 1);
    };
    return tile_.at<float>(wrap(y), wrap(x));
  }

 private:
  static constexpr int kSize = 512;
  double texel_mm_;
  cv::Mat tile_;
};

// Hairs as strokes in the texture, for brows. Returns a mask, 255 where hair is.
class StrokePainter {
 public:
  StrokePainter(const HeadShape& shape, const HeadMesh& mesh, cv::Size size)
      : shape_(shape), mesh_(mesh), mask_(cv::Mat::zeros(size, CV_8U)) {}

  void Stroke(double x0, double y0, double x1, double y1, double strength, int thickness) {
    const cv::Point2d a = Texel(x0, y0);
    const cv::Point2d b = Texel(x1, y1);
    constexpr int kShift = 4;
    const auto fixed = [](const cv::Point2d& p) {
      return cv::Point(static_cast<int>(std::lround(p.x * 16)),
                       static_cast<int>(std::lround(p.y * 16)));
    };
    cv::line(mask_, fixed(a), fixed(b), cv::Scalar(255 * strength), thickness, cv::LINE_AA, kShift);
  }
  [[nodiscard]] const cv::Mat& mask() const { return mask_; }

 private:
  [[nodiscard]] cv::Point2d Texel(double x, double y) const {
    const auto& heights = mesh_.height;  // falling
    const auto row = std::lower_bound(heights.begin(), heights.end(), y, std::greater<>());
    const auto r = std::clamp<std::ptrdiff_t>(row - heights.begin(), 1,
                                              static_cast<std::ptrdiff_t>(heights.size()) - 1);
    const double v =
        static_cast<double>(r) - 1 +
        (heights[static_cast<std::size_t>(r - 1)] - y) /
            (heights[static_cast<std::size_t>(r - 1)] - heights[static_cast<std::size_t>(r)]);
    const double angle = std::asin(std::clamp(x / shape_.HalfWidth(y), -1.0, 1.0));
    const auto& azimuths = mesh_.azimuth;
    const auto col = std::lower_bound(azimuths.begin(), azimuths.end(), angle);
    const auto c = std::clamp<std::ptrdiff_t>(col - azimuths.begin(), 1,
                                              static_cast<std::ptrdiff_t>(azimuths.size()) - 1);
    const double u =
        static_cast<double>(c) - 1 +
        (angle - azimuths[static_cast<std::size_t>(c - 1)]) /
            (azimuths[static_cast<std::size_t>(c)] - azimuths[static_cast<std::size_t>(c - 1)]);
    return {u * HeadMesh::kTexelsPerCell - 0.5, v * HeadMesh::kTexelsPerCell - 0.5};
  }

  const HeadShape& shape_;
  const HeadMesh& mesh_;
  cv::Mat mask_;
};

void PaintBrows(StrokePainter& painter, const HeadShape& shape, Random& random) {
  const double s = shape.scale();
  for (const double side : {-1.0, 1.0}) {
    for (int i = 0; i < 900; ++i) {
      const double along = random.Uniform();  // 0 at the nose .. 1 at the temple
      const double across = std::clamp(random.Normal() * 0.42, -1.0, 1.0);
      const double x = 13 + 37 * along;
      const double middle = 18.2 +
                            6.2 * std::sin(std::numbers::pi * std::min(1.0, 0.10 + 0.70 * along)) -
                            5.0 * std::pow(std::max(0.0, along - 0.45), 1.5);
      const double half = 4.6 * (1 - 0.66 * along) * (0.55 + 0.45 * SmoothStep(0, 0.12, along));
      const double y = middle + half * across;
      const double lean = (85 - 95 * SmoothStep(0, 0.45, along) - 25 * along + 25 * -across) *
                          std::numbers::pi / 180;
      const double length = random.Uniform(3.0, 5.5) * (1 - 0.35 * along);
      const double sparse = along < 0.08 ? 0.6 : 1;
      painter.Stroke(side * s * x, s * y, side * s * (x + length * std::cos(lean)),
                     s * (y + length * std::sin(lean) * 0.8), sparse * random.Uniform(0.55, 0.95),
                     1);
    }
  }
}

struct Palette {
  cv::Vec3f skin, blood, hair, lip, cloth;
};

}  // namespace

cv::Vec3f SkinReflectance(double tone) {
  const cv::Vec3f light(0.45F, 0.56F, 0.76F);
  const cv::Vec3f dark(0.055F, 0.085F, 0.16F);
  cv::Vec3f out;
  for (int c = 0; c < 3; ++c) {
    out[c] = static_cast<float>(light[c] * std::pow(static_cast<double>(dark[c] / light[c]), tone));
  }
  return out;
}

cv::Vec3f HairReflectance(const Appearance& appearance) {
  const double dark =
      std::clamp(0.35 + 0.8 * appearance.skin_tone + 0.35 * appearance.iris_tone, 0.0, 1.0);
  return Mix({0.06F, 0.11F, 0.17F}, {0.012F, 0.014F, 0.018F}, dark);
}

cv::Mat PaintSkin(const HeadShape& shape, const HeadMesh& mesh, const Appearance& appearance) {
  Random random(appearance.texture_seed, 11);
  const NoiseTile blotch(random, 9, 0.8);
  const NoiseTile mottle(random, 1.6, 0.3);
  const NoiseTile pore(random, 0.16, 0.09);
  const NoiseTile strand(random, 0.3, 0.2);
  Palette palette;
  palette.skin = SkinReflectance(appearance.skin_tone);
  palette.blood = palette.skin.mul(cv::Vec3f(0.72F, 0.70F, 0.98F));
  palette.hair = HairReflectance(appearance);
  palette.lip = palette.skin.mul(cv::Vec3f(0.60F, 0.52F, 0.80F));
  palette.cloth = {static_cast<float>(random.Uniform(0.05, 0.35)),
                   static_cast<float>(random.Uniform(0.05, 0.25)),
                   static_cast<float>(random.Uniform(0.03, 0.25))};

  struct Spot {
    double x, y, size, strength;
  };
  std::vector<Spot> spots;
  for (int i = 0; i < 26; ++i) {
    spots.push_back({random.Uniform(-55, 55), random.Uniform(-95, 60), random.Uniform(0.25, 0.7),
                     random.Uniform(0.1, i < 4 ? 0.7 : 0.35)});
  }

  const cv::Size size(mesh.cols * HeadMesh::kTexelsPerCell, mesh.rows * HeadMesh::kTexelsPerCell);
  StrokePainter painter(shape, mesh, size);
  PaintBrows(painter, shape, random);
  cv::Mat brow_shadow;
  cv::GaussianBlur(painter.mask(), brow_shadow, {}, 7);

  const double s = shape.scale();
  const int head_rows = mesh.head.row1 * HeadMesh::kTexelsPerCell;
  cv::Mat texture(size, CV_8UC4, cv::Scalar::all(0));
  const auto lerp = [](const std::vector<double>& values, double at) {
    const auto i =
        static_cast<std::size_t>(std::clamp(at, 0.0, static_cast<double>(values.size()) - 1.001));
    return values[i] + (at - static_cast<double>(i)) * (values[i + 1] - values[i]);
  };

  const auto head_colour = [&](int tx, int ty) {
    const double u = (tx + 0.5) / HeadMesh::kTexelsPerCell;
    const double v = (ty + 0.5) / HeadMesh::kTexelsPerCell;
    const double azimuth = lerp(mesh.azimuth, u);
    const double y_mm = lerp(mesh.height, v);
    const double width = shape.HalfWidth(y_mm) / s;
    const double x = width * std::sin(azimuth);
    const double y = y_mm / s;
    const double ax = std::abs(x);
    const double arc = width * azimuth;  // keeps the grain even round the side
    const double wide = blotch.At(arc, y);
    const double mid = mottle.At(arc, y);
    const double fine = pore.At(arc, y);

    cv::Vec3f c = palette.skin * static_cast<float>(1 + 0.045 * wide + 0.03 * mid + 0.035 * fine);
    double red = 0.16 + 0.13 * wide + 0.10 * mid;
    red += 0.55 * Gauss(ax - 38, 14) * Gauss(y + 28, 13) + 0.6 * Gauss(x, 11) * Gauss(y + 36, 8);
    red += 0.35 * Gauss(ax - 31, 15) * Gauss(y + 1, 8);
    c = Mix(c, palette.blood, red);
    // Under the eyes and on the lids.
    double dark = 0.16 * Gauss(ax - 24, 9) * Gauss(y + 10, 4.5);
    dark += 0.10 * Gauss(ax - 31, 13) * Gauss(y - 7, 5);
    // Folds, and the shade under the chin.
    dark += 0.42 * SmoothStep(-109, -121, y);
    const double along =
        (ax * s - shape.InnerCorner().x()) / (shape.OuterCorner().x() - shape.InnerCorner().x());
    if (along > -0.05 && along < 1.15 && y > -20 && y < 25) {
      const double crease = shape.Crease(along) - y_mm;
      const double ends = SmoothStep(-0.02, 0.15, along) * (1 - SmoothStep(0.95, 1.15, along));
      dark += ends * (0.26 * Gauss(crease, 0.45) + 0.14 * Gauss(crease - 0.7, 1.3));
      const Lids open;
      const double below = shape.LowerMargin(std::clamp(along, 0.0, 1.0), open) - y_mm;
      dark += ends * (0.14 * Gauss(below - 6.0, 0.9) + 0.10 * Gauss(below - 0.6, 0.5));
    }
    const double fold = 20 + 0.42 * (-36 - y);
    dark += 0.16 * Gauss(ax - fold, 1.6) * SmoothStep(-68, -58, y) * (1 - SmoothStep(-46, -37, y));
    // Nostrils and the furrow of the wings.
    const double nostril_x = (ax - 7.0 - 0.25 * (y + 43)) / 4.3;
    const double nostril_y = (y + 43.2 - 0.06 * (ax - 7)) / 2.0;
    const double nostril = 1 - SmoothStep(0.55, 1.25, std::hypot(nostril_x, nostril_y));
    dark += 0.88 * nostril + 0.32 * Gauss(ax - 18.2, 1.1) * Gauss(y + 39, 4.5);
    dark += 0.16 * Gauss(x, 10) * Gauss(y + 47.5, 1.4);
    // Mouth.
    const double line = -64 - 1.2 * Gauss(x, 3) + 1.2 * Gauss(ax - 7, 4) - 0.0012 * ax * ax;
    const double reach = std::sqrt(std::max(0.0, 1 - std::pow(ax / 25.5, 2.2)));
    const double top = line + 7.2 * reach - 1.7 * Gauss(x, 3.2) + 0.6 * Gauss(ax - 6, 4);
    const double bottom = line - 9.2 * reach;
    const double lip = SmoothStep(bottom - 0.7, bottom + 0.8, y) *
                       (1 - SmoothStep(top - 0.7, top + 0.7, y)) * (1 - SmoothStep(24.5, 26.5, ax));
    c = Mix(c, palette.lip * static_cast<float>(1 + 0.10 * strand.At(x * 3, y * 0.6)), 0.85 * lip);
    dark += 0.72 * Gauss(y - line, 0.75) * (1 - SmoothStep(23, 27, ax));
    dark += 0.10 * Gauss(y - line - 4, 2.5) * lip;
    dark += 0.14 * Gauss(x, 16) * Gauss(y + 77, 2.6);
    for (const Spot& spot : spots) {
      const double r2 = (x - spot.x) * (x - spot.x) + (y - spot.y) * (y - spot.y);
      if (r2 < 9 * spot.size * spot.size)
        dark += spot.strength * std::exp(-r2 / (spot.size * spot.size));
    }
    c *= static_cast<float>(1 - std::min(0.93, dark));
    // Brows and hair.
    const double shade = brow_shadow.at<uchar>(ty, tx) / 255.0;
    c = Mix(c, palette.hair, 0.45 * shade);
    c = Mix(c, palette.hair, painter.mask().at<uchar>(ty, tx) / 255.0);
    const double ragged =
        shape.Hair(azimuth, y_mm + 1.6 * strand.At(arc * 2.5, y * 0.4) + 1.5 * mid);
    if (ragged > 0) {
      const double gloss = 1 + 0.45 * strand.At(arc * 1.7, y * 0.16);
      c = Mix(c, palette.hair * static_cast<float>(std::max(0.3, gloss)), ragged);
    }
    // Cloth below the collar.
    c = Mix(c, palette.cloth, SmoothStep(-171, -173, y));
    return c;
  };

  const auto part_colour = [&](int tx, int ty) {
    const int col = tx / HeadMesh::kTexelsPerCell;
    const double v = (ty - head_rows + 0.5) / (size.height - head_rows);
    if (col >= mesh.charts[3].col0) {
      return palette.cloth * static_cast<float>(1 + 0.05 * mottle.At(tx * 0.3, ty * 0.3));
    }
    const Chart& ear = mesh.charts[col < mesh.charts[1].col1 ? 1 : 2];
    double u =
        (static_cast<double>(tx) / HeadMesh::kTexelsPerCell - ear.col0) / (ear.col1 - ear.col0);
    if (col < mesh.charts[1].col1) u = 1 - u;
    const double shell = Gauss(u - 0.42, 0.16) * Gauss(v - 0.5, 0.2) + 0.5 * Gauss(u - 0.72, 0.05);
    return Mix(palette.skin, palette.blood, 0.6) * static_cast<float>(1 - 0.5 * shell);
  };

  cv::parallel_for_(cv::Range(0, size.height), [&](const cv::Range& range) {
    for (int ty = range.start; ty < range.end; ++ty) {
      auto* row = texture.ptr<cv::Vec4b>(ty);
      for (int tx = 0; tx < size.width; ++tx) {
        const cv::Vec3f c = ty < head_rows ? head_colour(tx, ty) : part_colour(tx, ty);
        for (int k = 0; k < 3; ++k) {
          row[tx][k] = cv::saturate_cast<uchar>(255 * std::sqrt(std::clamp(c[k], 0.0F, 1.0F)));
        }
      }
    }
  });
  return texture;
}

}  // namespace nearpoint::simulate
