#include "app/print/card_sheet.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "tests/app/print/rasterise.h"
#include "tests/app/print/svg_boxes.h"
#include "tests/support/result_matchers.h"
#include "vision/card/card_pattern.h"
#include "vision/card/find_pattern.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

class CardSheetTest : public testing::TestWithParam<PaperSize> {
 protected:
  void SetUp() override {
    const auto pdf = CardSheetPdf(GetParam());
    ASSERT_THAT(pdf, IsOk());
    pdf_ = *pdf;
    layout_ = LayoutOf(GetParam());
  }
  std::string pdf_;
  SheetLayout layout_;
};

TEST_P(CardSheetTest, IsToScaleInItsOwnCoordinates) {
  const auto boxes = DrawnBoxes(pdf_);
  const auto has = [&](double width, double height) {
    return std::ranges::any_of(boxes, [&](const DrawnBox& b) {
      return std::abs(b.width() - width) < 0.01 && std::abs(b.height() - height) < 0.01;
    });
  };
  // ISO/IEC 7810: 85.60 by 53.98 mm; front and back hang together.
  EXPECT_TRUE(has(85.60, 2 * 53.98));
  EXPECT_TRUE(has(100, 0));  // the ruler
  EXPECT_TRUE(has(70, 22));  // the strip
  // 20/30 at 400 mm: 0.873 mm (ISO 8596: five times 1.5 minutes of arc; computed).
  EXPECT_TRUE(has(0.873, 0.873));
  EXPECT_NEAR(LetterHeightMm(400), 0.8727, 0.0001);

  // The place for a real card: the outer reach of its four corners.
  DrawnBox place;
  for (const DrawnBox& b : boxes) {
    const SheetBox& p = layout_.place;
    const bool inside = b.left > p.left - 0.1 && b.right < p.left + p.width + 0.1 &&
                        b.top > p.top - 0.1 && b.bottom < p.top + p.height + 0.1;
    if (!inside) continue;
    place.left = std::min(place.left, b.left);
    place.right = std::max(place.right, b.right);
    place.top = std::min(place.top, b.top);
    place.bottom = std::max(place.bottom, b.bottom);
  }
  EXPECT_NEAR(place.width(), 85.60, 0.01);
  EXPECT_NEAR(place.height(), 53.98, 0.01);
}

TEST_P(CardSheetTest, IsToScaleAt300DotsPerInch) {
  const cv::Mat page = Rasterise(pdf_, 300);
  ASSERT_FALSE(page.empty());
  const double dots = 300 / 25.4;
  const SheetBox& front = layout_.front;
  // The two vertical cut lines, found by their darkness in a row between two rows of markers.
  const auto row = static_cast<int>(std::lround((front.top + 19.0) * dots));
  const auto middle_of_line = [&](double about_mm) {
    double dark = 0, sum = 0;
    for (int x = static_cast<int>((about_mm - 0.8) * dots); x < (about_mm + 0.8) * dots; ++x) {
      const double d = 255 - page.at<std::uint8_t>(row, x);
      dark += d;
      sum += d * (x + 0.5);
    }
    EXPECT_GT(dark, 200) << about_mm;
    return sum / dark / dots;
  };
  const double left = middle_of_line(front.left), right = middle_of_line(front.left + front.width);
  EXPECT_NEAR(right - left, 85.60, 0.1);
  EXPECT_NEAR(left, front.left, 0.1);
}

TEST_P(CardSheetTest, CarriesThePatternThatTheDetectorKnows) {
  const cv::Mat page = Rasterise(pdf_, 300);
  const auto view = FindPattern(page);
  ASSERT_TRUE(view.has_value()) << ToText(view.error());
  EXPECT_EQ(view->corners.size(), 60u);
  const double dots = 300 / 25.4;
  const Eigen::Vector2d middle(layout_.front.left + layout_.front.width / 2,
                               layout_.front.top + layout_.front.height / 2);
  for (const PatternCorner& c : view->corners) {
    const Eigen::Vector2d expected = ((middle + c.card_mm) * dots).array() - 0.5;
    EXPECT_LT((c.image_px - expected).norm() / dots, 0.05)
        << c.marker << " " << c.corner << ": " << c.image_px.transpose();
  }
}

TEST_P(CardSheetTest, StaysOnThePaperAndSaysWhatToDo) {
  for (const DrawnBox& b : DrawnBoxes(pdf_)) {
    EXPECT_GT(b.left, 5);
    EXPECT_LT(b.right, layout_.width_mm - 5);
    EXPECT_GT(b.top, 5);
    EXPECT_LT(b.bottom, layout_.height_mm - 8);
  }
  const std::string text = PdfText(pdf_);
  for (const char* words : {"100 %", "100 mm", "fold", "not a diagnosis"}) {
    EXPECT_THAT(text, HasSubstr(words));
  }
}

INSTANTIATE_TEST_SUITE_P(Papers, CardSheetTest,
                         testing::Values(PaperSize::kA4, PaperSize::kLetter));

}  // namespace
}  // namespace nearpoint
