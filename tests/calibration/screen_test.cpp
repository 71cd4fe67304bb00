#include "calibration/screen.h"

#include <gmock/gmock.h>

#include <vector>

#include "calibration/print_check.h"
#include "calibration/print_views.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

TEST(ScreenTest, MillimetresFromTheMatchedCard) {
  // A 15.6 inch screen of 1920 pixels has 141.2 pixels an inch, 0.1799 mm a pixel (computed).
  const double mm = 25.4 / 141.2;
  const auto scale = ScaleFromOutline(85.60 / mm, 53.98 / mm);
  ASSERT_THAT(scale, IsOk());
  EXPECT_NEAR(scale->mm_per_px, mm, 1e-6);
  // Two edges to 0.3 mm: 0.42 mm in 85.6 mm, with the other side a little better.
  EXPECT_GT(scale->relative_sd, 0.003);
  EXPECT_LT(scale->relative_sd, 0.006);
  // A coarse screen is matched to its pixels.
  const auto coarse = ScaleFromOutline(85.60 / 0.55, 53.98 / 0.55);
  ASSERT_THAT(coarse, IsOk());
  EXPECT_GT(coarse->relative_sd, scale->relative_sd);
}

TEST(ScreenTest, SlipsOfTheMatchingAreNamed) {
  EXPECT_THAT(ScaleFromOutline(475, 285),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("475 by 285"), HasSubstr("shape"))));
  EXPECT_THAT(ScaleFromOutline(0, 100), FailsWith(ErrorCode::kBadValue, HasSubstr("pixels")));
  EXPECT_THAT(ScaleFromOutline(8560, 5398), FailsWith(ErrorCode::kBadValue, HasSubstr("0.010")));
  EXPECT_THAT(ScaleFromOutline(std::nan(""), 100),
              FailsWith(ErrorCode::kBadValue, HasSubstr("pixels")));
}

TEST(ScreenTest, TheSystemsReportIsHeldAgainstTheCard) {
  const ScreenScale scale{0.18, 0.004};
  EXPECT_FALSE(CompareWithReported(scale, 1920, 344).has_value());  // 345.6 mm by the card
  const auto differs = CompareWithReported(scale, 1920, 508);
  ASSERT_TRUE(differs.has_value());
  EXPECT_THAT(*differs, AllOf(HasSubstr("508 mm"), HasSubstr("346 mm")));
  EXPECT_THAT(CompareWithReported(scale, 1920, 0).value(), HasSubstr("does not know"));
}

TEST(ScreenTest, TheTargetStandsMirroredInTheCameraFrame) {
  const ScreenScale scale{0.2, 0.004};
  // The lens 8 mm above the middle of a 1600 pixel screen, the target 50 px right of it, 40 px
  // down.
  const auto place = TargetOnScreen(scale, {850, 40}, {160, -8});
  ASSERT_THAT(place, IsOk());
  EXPECT_NEAR(place->in_camera_mm.x(), -10, 1e-9);
  EXPECT_NEAR(place->in_camera_mm.y(), 16, 1e-9);
  EXPECT_EQ(place->in_camera_mm.z(), 0);
  EXPECT_GE(place->sd_mm, 1.5);
  EXPECT_LE(place->sd_mm, 3);
  EXPECT_THAT(TargetOnScreen(scale, {850, 40}, {16000, -8}),
              FailsWith(ErrorCode::kBadValue, HasSubstr("600 mm")));
}

TEST(ScreenTest, TheStripIsUnderTheLens) {
  const auto place = TargetOnStrip(12, 3);
  ASSERT_THAT(place, IsOk());
  EXPECT_EQ(place->in_camera_mm, Eigen::Vector3d(-3, 12, 0));
  EXPECT_THAT(TargetOnStrip(1.2, 0), FailsWith(ErrorCode::kBadValue, HasSubstr("3 to 200 mm")));
  EXPECT_THAT(TargetOnStrip(12, 900), FailsWith(ErrorCode::kBadValue, HasSubstr("200 mm")));
  EXPECT_GT(AssumedTarget().sd_mm, place->sd_mm);
}

TEST(PrintCheckTest, TheRulerTellsAFittedPage) {
  for (const auto& [mm, words] :
       {std::pair{97.0, "97.0 %"}, {94.5, "94.5 %"}, {103.0, "103.0 %"}}) {
    const auto scale = PrintScaleFromRuler(mm);
    ASSERT_THAT(scale, IsOk());
    EXPECT_THAT(CheckPrint(*scale), FailsWith(ErrorCode::kMismatch, HasSubstr(words)));
  }
  for (const double mm : {99.5, 100.0, 100.5}) {
    EXPECT_THAT(CheckPrint(*PrintScaleFromRuler(mm)), IsOk()) << mm;
  }
  // Inches, or centimetres.
  EXPECT_THAT(PrintScaleFromRuler(3.94), FailsWith(ErrorCode::kBadValue, HasSubstr("millimetres")));
  EXPECT_THAT(PrintScaleFromRuler(10), FailsWith(ErrorCode::kBadValue, HasSubstr("millimetres")));
  EXPECT_THAT(CheckPrint({1, 1, 0.02}), FailsWith(ErrorCode::kInsufficient, HasSubstr("nearer")));
  EXPECT_THAT(CheckPrint({1.0, 0.97, 0.002}),
              FailsWith(ErrorCode::kMismatch, AllOf(HasSubstr("width"), HasSubstr("97.0 %"))));
}

TEST(PrintCheckTest, SeveralPicturesGiveTheirMiddleAndTheLargestDeviation) {
  PrintViews views;
  EXPECT_FALSE(views.Measured());
  for (const double size : {0.998, 1.002, 0.999, 0.93, 1.001})
    views.Add({size, size - 0.001, 0.002});
  views.Add({1.0, 0.999, 0.004});
  EXPECT_EQ(views.count(), 6U);
  EXPECT_FALSE(views.Enough());
  const auto measured = views.Measured();
  ASSERT_TRUE(measured);
  EXPECT_EQ(measured->width, 1.0);
  EXPECT_NEAR(measured->height, 0.999, 1e-12);
  EXPECT_EQ(measured->sd, 0.004);
  EXPECT_EQ(PrintMethod(*measured, PrintMeasure::kCard), "beside a real card, 100.0 %");
  EXPECT_EQ(PrintMethod({0.995, 0.995, 0.003}, PrintMeasure::kRuler), "ruler, 99.5 %");
}

TEST(PrintCheckTest, AStretchedPatternIsRefusedOnlyWhereItIsSure) {
  EXPECT_FALSE(MeanAspect({}));
  // The surer picture weighs more; pictures of one card err alike, so many do not make it sure.
  const std::vector<PrintAspect> two{{-0.05, 0.01}, {0.05, 0.03}};
  EXPECT_NEAR(MeanAspect(two)->off, -0.04, 1e-12);
  EXPECT_NEAR(MeanAspect(std::vector<PrintAspect>(400, {-0.05, 0.01}))->sd, 0.005, 1e-12);
  EXPECT_THAT(CheckAspect({-0.048, 0.005}), FailsWith(ErrorCode::kMismatch, HasSubstr("95.2 %")));
  EXPECT_THAT(CheckAspect({0.03, 0.005}), FailsWith(ErrorCode::kMismatch, HasSubstr("103.0 %")));
  EXPECT_THAT(CheckAspect({-0.048, 0.02}), IsOk());
  EXPECT_THAT(CheckAspect({0.012, 0.001}), IsOk());
}

}  // namespace
}  // namespace nearpoint
