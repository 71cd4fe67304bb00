#include "vision/card/card_pattern.h"

#include <gmock/gmock.h>

#include <cmath>

#include "vision/card/draw_pattern.h"

namespace nearpoint {
namespace {

TEST(CardPatternTest, EveryMarkerLiesOnTheCardWithWhiteAroundIt) {
  for (int id = 0; id < kMarkerCount; ++id) {
    const auto corners = MarkerCorners(id);
    for (std::size_t k = 0; k < 4; ++k) {
      EXPECT_NEAR((corners[(k + 1) % 4] - corners[k]).norm(), kMarkerSizeMm, 1e-12);
      // A module of white to the card's rim: what the reading needs.
      EXPECT_LT(std::abs(corners[k].x()) + kModuleMm, kCardWidthMm / 2);
      EXPECT_LT(std::abs(corners[k].y()) + kModuleMm, kCardHeightMm / 2);
    }
  }
  EXPECT_GT(kMarkerPitchMm - kMarkerSizeMm, kModuleMm);
  // Row by row from the top left; y down.
  EXPECT_LT(MarkerCorners(0)[0].y(), MarkerCorners(5)[0].y());
  EXPECT_LT(MarkerCorners(0)[0].x(), MarkerCorners(1)[0].x());
  EXPECT_NEAR(MarkerCorners(7)[0].x(), -kMarkerSizeMm / 2, 1e-12);  // the middle one
}

TEST(CardPatternTest, TheCardIsId1) {
  const auto corners = CardCorners();
  EXPECT_DOUBLE_EQ((corners[1] - corners[0]).norm(), 85.60);  // ISO/IEC 7810
  EXPECT_DOUBLE_EQ((corners[2] - corners[1]).norm(), 53.98);
}

TEST(CardPatternTest, ThePictureHoldsTheDarkAreaAtAnyScale) {
  double dark_mm2 = 0;
  for (const CardRectangle& r : DarkRectangles()) {
    dark_mm2 += (r.right - r.left) * (r.bottom - r.top);
  }
  // Each marker has a rim of 20 black modules and some of 16 inside.
  EXPECT_GT(dark_mm2, kMarkerCount * 20 * kModuleMm * kModuleMm);
  for (const double dots : {3.7, 8.0, 11.81}) {
    const cv::Mat picture = DrawCardPattern(dots);
    const double dark_px =
        (255.0 * static_cast<double>(picture.total()) - cv::sum(picture)[0]) / 255;
    EXPECT_NEAR(dark_px / (dots * dots), dark_mm2, 0.002 * dark_mm2) << dots;
  }
}

TEST(CardPatternTest, EdgesKeepTheirPlaceToAFractionOfAPixel) {
  constexpr double kDots = 5.37;
  const cv::Mat picture = DrawCardPattern(kDots);
  const cv::Point2d middle = CardMiddlePx(picture);
  // Along a row through the rim of the first marker's top, darkness ends at its edges.
  const auto corners = MarkerCorners(0);
  const int row =
      static_cast<int>(std::lround(middle.y + (corners[0].y() + kModuleMm / 2) * kDots));
  const int end = static_cast<int>(std::lround(middle.x + (corners[1].x() + 1.5) * kDots));
  double dark = 0;
  for (int x = 0; x < end; ++x) dark += (255 - picture.at<std::uint8_t>(row, x)) / 255.0;
  EXPECT_NEAR(dark / kDots, kMarkerSizeMm, 0.003);
}

}  // namespace
}  // namespace nearpoint
