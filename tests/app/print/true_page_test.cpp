#include "app/print/true_page.h"

#include <gmock/gmock.h>

#include <opencv2/core.hpp>

#include "tests/app/print/rasterise.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

TEST(TruePageTest, IsAsLargeAsThePaper) {
  TempFolder folder;
  for (const PaperSize paper : {PaperSize::kA4, PaperSize::kLetter}) {
    TruePage page(paper, "empty");
    page.NextPage();
    const auto pdf = page.Finish();
    ASSERT_THAT(pdf, IsOk());
    const ProgramRun info = RunProgram("/usr/bin/pdfinfo", {folder.Write("p.pdf", *pdf)});
    // ISO 216 and ANSI/ASME Y14.1 in points of 1/72 inch.
    EXPECT_THAT(info.out, testing::HasSubstr(paper == PaperSize::kA4 ? "595" : "612 x 792 pts"));
    EXPECT_THAT(info.out, testing::ContainsRegex("Pages: +2"));
  }
}

TEST(TruePageTest, AMillimetreIsAMillimetre) {
  TruePage page(PaperSize::kA4, "square");
  page.painter().fillRect(QRectF(20, 30, 100, 150), Qt::black);
  const auto pdf = page.Finish();
  ASSERT_THAT(pdf, IsOk());
  const cv::Mat picture = Rasterise(*pdf);
  ASSERT_FALSE(picture.empty());
  const double dots_per_mm = 300 / 25.4;
  EXPECT_NEAR(picture.cols, 210 * dots_per_mm, 1.5);
  EXPECT_NEAR(picture.rows, 297 * dots_per_mm, 1.5);
  // Darkness summed along a line counts part-covered pixels by their share.
  const auto dark = [](const cv::Mat& line) {
    return (255.0 * static_cast<double>(line.total()) - cv::sum(line)[0]) / 255;
  };
  EXPECT_NEAR(dark(picture.row(1200)) / dots_per_mm, 100, 0.05);
  EXPECT_NEAR(dark(picture.col(800)) / dots_per_mm, 150, 0.05);
  EXPECT_GT(picture.at<std::uint8_t>(1200, static_cast<int>(19.8 * dots_per_mm)), 200);
  EXPECT_LT(picture.at<std::uint8_t>(1200, static_cast<int>(20.2 * dots_per_mm)), 50);
}

TEST(TruePageTest, TextTakesItsHeightAndStaysInItsBox) {
  TruePage page(PaperSize::kA4, "text");
  const QRectF one = page.Text(QRectF(20, 20, 100, 50), 4, "one line");
  EXPECT_GT(one.height(), 4);
  EXPECT_LT(one.height(), 7);
  EXPECT_NEAR(one.left(), 20, 0.01);
  const QRectF wrapped =
      page.Text(QRectF(20, 20, 30, 50), 4, "several words that need more than one line");
  EXPECT_GT(wrapped.height(), 2 * one.height());
  EXPECT_LE(wrapped.width(), 30.1);
  ASSERT_THAT(page.Finish(), IsOk());
}

}  // namespace
}  // namespace nearpoint
