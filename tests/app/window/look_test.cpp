// The palette, computed: contrast by WCAG 2.1, and what is left of the differences without
// red-green vision.
#include "app/window/look.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace nearpoint {
namespace {

double Linear(double value) {
  return value <= 0.04045 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
}

using Rgb = std::array<double, 3>;
Rgb LinearOf(const QColor& color) {
  return {Linear(color.redF()), Linear(color.greenF()), Linear(color.blueF())};
}

// WCAG 2.1, "relative luminance" and "contrast ratio".
double Luminance(const Rgb& c) { return 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]; }
double Contrast(const QColor& a, const QColor& b) {
  const double la = Luminance(LinearOf(a));
  const double lb = Luminance(LinearOf(b));
  return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

// Machado et al., IEEE TVCG 2009;15(6): full protanomaly and deuteranomaly, on linear RGB. The
// matrices are from memory; each row sums to one, so that grey stays grey.
constexpr std::array<std::array<double, 9>, 2> kDeficient{
    {{0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
     {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881}}};

Rgb Seen(const QColor& color, const std::array<double, 9>& by) {
  const Rgb c = LinearOf(color);
  Rgb seen{};
  for (std::size_t row = 0; row < 3; ++row) {
    seen[row] =
        std::clamp(by[3 * row] * c[0] + by[3 * row + 1] * c[1] + by[3 * row + 2] * c[2], 0.0, 1.0);
  }
  return seen;
}

// CIE 1976 Lab, D65.
Rgb Lab(const Rgb& c) {
  const auto f = [](double t) {
    return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116;
  };
  const double x = f((0.4124 * c[0] + 0.3576 * c[1] + 0.1805 * c[2]) / 0.95047);
  const double y = f(Luminance(c));
  const double z = f((0.0193 * c[0] + 0.1192 * c[1] + 0.9505 * c[2]) / 1.08883);
  return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

double Difference(const Rgb& a, const Rgb& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

TEST(LookTest, TheReckoningIsThatOfTheRecommendation) {
  EXPECT_NEAR(Contrast(Qt::black, Qt::white), 21, 1e-9);                   // by definition
  EXPECT_NEAR(Contrast(QColor(0x76, 0x76, 0x76), Qt::white), 4.54, 0.01);  // commonly quoted
}

TEST(LookTest, EveryTextStandsOutFromItsGround) {
  const std::pair<QColor, QColor> pairs[] = {
      {look::kInk, look::kPaper},     {look::kInk, look::kCard},
      {look::kInk, look::kSoft},      {look::kQuietInk, look::kPaper},
      {look::kQuietInk, look::kCard}, {look::kQuietInk, look::kSoft},
      {look::kDeep, look::kPaper},    {look::kDeep, look::kCard},
      {look::kDeep, look::kSoft},     {Qt::white, look::kDeep},
      {Qt::white, look::kDeepHover},  {look::kWarm, look::kPaper},
      {look::kWarm, look::kCard},     {look::kWarm, look::kWarmSoft},
      {look::kStop, look::kStopSoft}, {look::kQuietInk, look::kLine},
      {look::kDeep, look::kWarmSoft}};
  for (const auto& [text, ground] : pairs) {
    EXPECT_GE(Contrast(text, ground), 4.5)
        << text.name().toStdString() << " on " << ground.name().toStdString();
  }
}

// A difference of 2.3 is just noticed (Mahy et al. 1994, from memory); ten times that is plain.
TEST(LookTest, SignalsStayApartWithoutRedGreenVision) {
  const QColor signal[] = {look::kDeep, look::kWarm, look::kInk};
  for (const auto& by : kDeficient) {
    for (std::size_t i = 0; i < 3; ++i) {
      for (std::size_t j = i + 1; j < 3; ++j) {
        EXPECT_GT(Difference(Lab(Seen(signal[i], by)), Lab(Seen(signal[j], by))), 20)
            << signal[i].name().toStdString() << " and " << signal[j].name().toStdString();
      }
    }
  }
}

TEST(LookTest, TextGrowsToTwiceItsSize) {
  look::SetScale(1);
  const double body = look::Body().pointSizeF();
  look::SetScale(2);
  EXPECT_DOUBLE_EQ(look::Body().pointSizeF(), 2 * body);
  look::SetScale(9);
  EXPECT_DOUBLE_EQ(look::Scale(), 2);
  look::SetScale(1);
}

TEST(LookTest, EveryNameOfTheStyleSheetIsReplaced) {
  EXPECT_FALSE(look::StyleSheet().contains('@'));
}

}  // namespace
}  // namespace nearpoint
