#include "app/records/estimate_csv.h"

#include <gmock/gmock.h>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

TEST(TrialsCsvTest, ReadsTrialsAndBounds) {
  const auto trials = ParseTrialsCsv(
      "break_mm,recovery_mm,censored\n80,110.5,\n55,,below\n\n300,,above\n", "t.csv");
  ASSERT_THAT(trials, IsOk());
  ASSERT_EQ(trials->size(), 3u);
  EXPECT_EQ((*trials)[0].number, 1);
  EXPECT_EQ((*trials)[0].break_point->value.value.mm(), 80);
  EXPECT_EQ((*trials)[0].recovery->value.value.mm(), 110.5);
  EXPECT_EQ((*trials)[0].censored, Censoring::kNone);
  EXPECT_EQ((*trials)[1].censored, Censoring::kBelow);
  EXPECT_EQ((*trials)[1].limit->mm(), 55);
  EXPECT_FALSE((*trials)[1].break_point);
  EXPECT_FALSE((*trials)[1].recovery);
  EXPECT_EQ((*trials)[2].number, 3);
  EXPECT_EQ((*trials)[2].censored, Censoring::kAbove);
}

TEST(TrialsCsvTest, ReadsWhatSpreadsheetsWrite) {
  const auto trials = ParseTrialsCsv(
      "\xEF\xBB\xBF\"break_mm\",\"recovery_mm\",\"censored\"\r\n 80 , 110 ,\r\n", "t.csv");
  ASSERT_THAT(trials, IsOk());
  EXPECT_EQ((*trials)[0].break_point->value.value.mm(), 80);
}

struct BadText {
  const char* text;
  const char* line;
  const char* words;
};
class BadCsvTest : public testing::TestWithParam<BadText> {};

TEST_P(BadCsvTest, NamesLineAndField) {
  EXPECT_THAT(ParseTrialsCsv(GetParam().text, "t.csv"),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("t.csv"), HasSubstr(GetParam().line),
                                                    HasSubstr(GetParam().words))));
}

#define HEADER "break_mm,recovery_mm,censored\n"
INSTANTIATE_TEST_SUITE_P(
    Texts, BadCsvTest,
    testing::Values(BadText{"", "line 1", "header"}, BadText{"80,110,\n", "line 1", "header"},
                    BadText{"break,recovery,censored\n80,110,\n", "line 1", "header"},
                    BadText{"break_mm,recovery_mm\n80,110\n", "line 1", "header"},
                    BadText{HEADER, "", "no trial"},
                    BadText{HEADER "80,110,\n,110,\n", "line 3", "break_mm"},
                    BadText{HEADER "80\n", "line 2", "three"},
                    BadText{HEADER "80,1,110,1,\n", "line 2", "three"},
                    BadText{HEADER "80mm,110,\n", "line 2", "break_mm"},
                    BadText{HEADER "-80,110,\n", "line 2", "break_mm"},
                    BadText{HEADER "nan,110,\n", "line 2", "break_mm"},
                    BadText{HEADER "inf,110,\n", "line 2", "break_mm"},
                    BadText{HEADER "0,110,\n", "line 2", "break_mm"},
                    BadText{HEADER "80,0x11,\n", "line 2", "recovery_mm"},
                    BadText{HEADER "80,110,under\n", "line 2", "censored"},
                    BadText{HEADER "8.0,11,\n7.5,10,\n", "", "centimetres"}));
#undef HEADER

}  // namespace
}  // namespace nearpoint
