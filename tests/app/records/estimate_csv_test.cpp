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

TEST(DiaryCsvTest, GroupsTrialsBySession) {
  const auto diary = ParseDiaryCsv(
      "measured_at,break_mm,recovery_mm,censored\n2026-03-02T07:45,80,110,\n2026-03-09,70,,\n"
      "2026-03-02T07:45,82,,\n2026-03-09,50,,below\n",
      "d.csv");
  ASSERT_THAT(diary, IsOk());
  ASSERT_EQ(diary->size(), 2u);
  EXPECT_EQ((*diary)[0].started_at.hour, 7.75);
  ASSERT_EQ((*diary)[0].trials.size(), 2u);
  EXPECT_EQ((*diary)[0].trials[1].number, 2);
  EXPECT_EQ((*diary)[0].trials[1].break_point->value.value.mm(), 82);
  EXPECT_FALSE((*diary)[1].started_at.hour);
  EXPECT_EQ((*diary)[1].trials[1].censored, Censoring::kBelow);
}

TEST(DiaryCsvTest, NamesLineAndField) {
  constexpr const char* kDiary = "measured_at,break_mm,recovery_mm,censored\n";
  const auto refuses = [](const std::string& text, const char* line, const char* words) {
    EXPECT_THAT(ParseDiaryCsv(text, "d.csv"),
                FailsWith(ErrorCode::kBadValue,
                          AllOf(HasSubstr("d.csv"), HasSubstr(line), HasSubstr(words))));
  };
  refuses("", "line 1", "header");
  refuses("break_mm,recovery_mm,censored\n80,,\n", "line 1", "header");
  refuses(kDiary, "", "no trial");
  refuses(std::string(kDiary) + "2.3.2026,80,,\n", "line 2", "measured_at");
  refuses(std::string(kDiary) + "2026-03-02,80,,\n,81,,\n", "line 3", "measured_at");
  refuses(std::string(kDiary) + "2026-03-02,80,\n", "line 2", "four");
  refuses(std::string(kDiary) + "2026-03-02,eighty,,\n", "line 2", "break_mm");
  refuses(std::string(kDiary) + "2026-03-02,8.1,,\n", "", "centimetres");
}

TEST(DiaryCsvTest, IsToldByItsFirstColumn) {
  EXPECT_TRUE(LooksLikeDiary("measured_at,break_mm,recovery_mm,censored\n"));
  EXPECT_TRUE(LooksLikeDiary("\xEF\xBB\xBF\"measured_at\",x\r\n"));
  EXPECT_FALSE(LooksLikeDiary("break_mm,recovery_mm,censored\n"));
  EXPECT_FALSE(LooksLikeDiary(""));
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
