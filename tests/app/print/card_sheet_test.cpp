#include "app/print/card_sheet.h"

#include <gmock/gmock.h>

#include "tests/app/print/rasterise.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {
TEST(CardSheetTest, Writes) {
  for (auto p : {PaperSize::kA4, PaperSize::kLetter}) {
    const auto pdf = CardSheetPdf(p);
    ASSERT_THAT(pdf, IsOk());
    cv::imwrite(p == PaperSize::kA4 ? "/tmp/sheet_a4.png" : "/tmp/sheet_letter.png",
                Rasterise(*pdf, 110));
    std::ofstream(p == PaperSize::kA4 ? "/tmp/a4.pdf" : "/tmp/letter.pdf") << *pdf;
  }
}
}  // namespace
}  // namespace nearpoint
