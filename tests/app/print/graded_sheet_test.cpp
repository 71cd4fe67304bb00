#include "app/print/graded_sheet.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "tests/app/print/rasterise.h"
#include "tests/app/print/svg_boxes.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::SizeIs;

Length Mm(double mm) { return Length::Millimeters(mm); }

GradedSheetOptions Options(PaperSize paper = PaperSize::kA4) {
  GradedSheetOptions options;
  options.paper = paper;
  options.pupils = {Mm(58), Mm(1)};
  options.sheet = {Mm(400), Mm(20)};
  return options;
}

class GradedSheetTest : public testing::TestWithParam<PaperSize> {};

// The frames of both figures stand where the triangles want them, in the PDF's own numbers.
TEST_P(GradedSheetTest, IsToScaleInItsOwnCoordinates) {
  const auto layout = LayOutGradedSheet(Options(GetParam()));
  ASSERT_THAT(layout, IsOk());
  ASSERT_THAT(layout->rows, SizeIs(5));
  const auto pdf = GradedSheetPdf(Options(GetParam()));
  ASSERT_THAT(pdf, IsOk());
  const auto boxes = DrawnBoxes(*pdf);
  const auto frame_at = [&](double x, double y) {
    return std::ranges::any_of(boxes, [&](const DrawnBox& b) {
      return std::abs(b.width() - 0.93 * layout->figure_mm) < 0.02 &&
             std::abs((b.left + b.right) / 2 - x) < 0.02 &&
             std::abs((b.top + b.bottom) / 2 - y) < 0.02;
    });
  };
  for (const GradedSheetRow& row : layout->rows) {
    EXPECT_TRUE(frame_at(row.left_mm, row.y_mm)) << row.level.number;
    EXPECT_TRUE(frame_at(row.right_mm, row.y_mm)) << row.level.number;
    const double s = row.right_mm - row.left_mm;
    // D p / (p + s), from the corneal plane, which lies 13.5 mm before the centres of rotation.
    EXPECT_NEAR(row.level.fixation.value.mm(), 413.5 * 58 / (58 + s) - 13.5, 1e-6);
  }
  EXPECT_TRUE(std::ranges::any_of(boxes, [](const DrawnBox& b) {
    return std::abs(b.width() - 100) < 0.01 && b.height() < 0.01;
  }));
}

TEST_P(GradedSheetTest, IsToScaleAt300DotsPerInch) {
  const auto layout = LayOutGradedSheet(Options(GetParam())).value();
  const cv::Mat page = Rasterise(GradedSheetPdf(Options(GetParam())).value(), 300);
  ASSERT_FALSE(page.empty());
  const double dots = 300 / 25.4;
  // The outer edges of a frame in the row through its middle, where only the ring is between them.
  const auto middle = [&](double x_mm, double y_mm) {
    const auto row = static_cast<int>(std::lround((y_mm + 0.24 * layout.figure_mm) * dots));
    int first = -1;
    int last = -1;
    for (int x = static_cast<int>((x_mm - 9) * dots); x < (x_mm + 9) * dots; ++x) {
      if (page.at<std::uint8_t>(row, x) > 128) continue;
      if (first < 0) first = x;
      last = x;
    }
    EXPECT_NEAR((last - first + 1) / dots, layout.figure_mm, 0.2);
    return (first + last + 1) / 2.0 / dots;
  };
  for (const GradedSheetRow& row : layout.rows) {
    const double left = middle(row.left_mm, row.y_mm);
    const double right = middle(row.right_mm, row.y_mm);
    EXPECT_NEAR(right - left, row.level.separation.mm(), 0.1);
  }
}

TEST_P(GradedSheetTest, NothingLeavesThePaperOrMeets) {
  const auto layout = LayOutGradedSheet(Options(GetParam())).value();
  for (const GradedSheetRow& row : layout.rows) {
    EXPECT_GT(row.left_mm - layout.figure_mm / 2, 5);
    EXPECT_LT(row.right_mm + layout.figure_mm / 2, layout.width_mm - 5);
  }
  EXPECT_LT(layout.rows.back().y_mm + layout.figure_mm + 8, layout.ruler_y_mm - 5);
}

INSTANTIATE_TEST_SUITE_P(Papers, GradedSheetTest,
                         testing::Values(PaperSize::kA4, PaperSize::kLetter));

TEST(GradedSheet, SaysForWhomAndHow) {
  const std::string text = PdfText(GradedSheetPdf(Options()).value());
  EXPECT_THAT(text, HasSubstr("pupil distance of 58.0 mm"));
  EXPECT_THAT(text, HasSubstr("Stop at once when it hurts"));
  EXPECT_THAT(text, HasSubstr("not made for you"));
  EXPECT_THAT(text, HasSubstr("100 mm long"));
  const auto flat = [](const std::string& lines) {
    std::istringstream words(lines);
    std::string all;
    for (std::string word; words >> word;) all += word + ' ';
    return all;
  };
  EXPECT_THAT(flat(text), AllOf(HasSubstr(flat(StopRule(WordsIn::kEnglish))),
                                HasSubstr(flat(DoubleVisionRule(WordsIn::kEnglish))),
                                HasSubstr(flat(OtherSignsRule(WordsIn::kEnglish)))));
  GradedSheetOptions german = Options();
  german.words = WordsIn::kGerman;
  EXPECT_THAT(flat(PdfText(GradedSheetPdf(german).value())),
              HasSubstr("sofort in die Notaufnahme"));
}

// Common practice, no source: the least separated pair becomes one first as the finger comes
// nearer. It is the first row, with the farthest fingertip.
TEST(GradedSheet, LeastSeparatedFirst) {
  const auto layout = LayOutGradedSheet(Options()).value();
  for (std::size_t i = 1; i < layout.rows.size(); ++i) {
    EXPECT_GT(layout.rows[i].level.separation, layout.rows[i - 1].level.separation);
    EXPECT_LT(layout.rows[i].level.fixation.value, layout.rows[i - 1].level.fixation.value);
  }
}

TEST(GradedSheet, DistancesOfAPlan) {
  GradedSheetOptions options = Options();
  options.distances = {Mm(200), Mm(120), Mm(50)};
  const auto layout = LayOutGradedSheet(options);
  ASSERT_THAT(layout, IsOk());
  EXPECT_THAT(layout->rows, SizeIs(2));
  ASSERT_THAT(layout->notes, SizeIs(1));
  EXPECT_THAT(layout->notes[0], HasSubstr("50 mm"));
  EXPECT_NEAR(layout->rows[0].level.fixation.value.mm(), 200, 0.1);
}

TEST(GradedSheet, RefusesWhatCannotBe) {
  GradedSheetOptions options = Options();
  options.distances.assign(6, Mm(200));
  EXPECT_THAT(LayOutGradedSheet(options),
              FailsWith(ErrorCode::kBadValue, HasSubstr("1 to 5 pairs")));
  options = Options();
  options.pupils.value = Mm(0);
  options.distances = {Mm(200)};
  EXPECT_THAT(GradedSheetPdf(options),
              FailsWith(ErrorCode::kBadValue, HasSubstr("pupil distance")));
  options = Options();
  options.distances = {Mm(390)};
  EXPECT_THAT(GradedSheetPdf(options), FailsWith(ErrorCode::kInsufficient, HasSubstr("390 mm")));
}

}  // namespace
}  // namespace nearpoint
