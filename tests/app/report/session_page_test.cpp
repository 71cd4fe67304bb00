#include "app/report/session_page.h"

#include <gmock/gmock.h>

#include <cstdlib>

#include "app/safety/help_rule.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;
using testing::Not;
using testing::Pair;

Trial Doubled(int number, double break_mm) {
  Trial trial;
  trial.number = number;
  trial.break_point.emplace().value = {Length::Millimeters(break_mm), Length::Millimeters(1)};
  trial.recovery.emplace().value = {Length::Millimeters(break_mm + 25), Length::Millimeters(1)};
  trial.approach_speed = Speed::MillimetersPerSecond(15);
  return trial;
}

StoredSession Stored(const std::vector<double>& breaks = {95, 99, 97}) {
  StoredSession session;
  for (const double mm : breaks) {
    session.data.trials.push_back(Doubled(static_cast<int>(session.data.trials.size()) + 1, mm));
  }
  Trial aside = Doubled(9, 40);
  aside.set_aside = SetAside::kTooFast;
  session.data.trials.push_back(aside);
  session.data.started_at = *ParseMoment("2026-03-02T07:45:00+01:00");
  session.data.shared.relative_sd = 0.004;
  session.data.shared.offset_sd = Length::Millimeters(1.5);
  session.estimate = EstimateNearPoint(session.data.trials, session.data.shared);
  session.cut_off_from = "Adults, 5 cm and 7 cm (Scheiman et al.)";
  session.software = "nearpoint 0.1.0";
  session.target = "accommodative";
  session.cautions = {"Population values were used."};
  return session;
}

TEST(SessionWordsTest, TheRecordHasEverything) {
  const SessionWords words = WordsOf(Stored(), Reader::kRecord);
  EXPECT_EQ(words.when, "Measured on 2026-03-02 at 07:45.");
  EXPECT_THAT(words.result, AllOf(HasSubstr("Break 97 mm (95 % band"), HasSubstr("recovery 122 mm"),
                                  HasSubstr("corneal plane"), HasSubstr("63.5 mm"),
                                  HasSubstr("beyond the cut-off")));
  EXPECT_THAT(words.meaning, AllOf(HasSubstr("19 times in 20"), HasSubstr("not make a diagnosis")));
  EXPECT_THAT(words.facts,
              Contains(Pair("Method", AllOf(HasSubstr("accommodative"), HasSubstr("15 mm/s")))));
  EXPECT_THAT(
      words.facts,
      Contains(Pair("Trials", AllOf(HasSubstr("3 of 4"), HasSubstr("trial 9 set aside: the "
                                                                   "approach was too fast")))));
  EXPECT_THAT(words.facts, Contains(Pair("Limit", HasSubstr("Scheiman"))));
  EXPECT_THAT(words.facts, Contains(Pair("Calibration", HasSubstr("0.4 %"))));
  EXPECT_THAT(words.facts, Contains(Pair("Software", "nearpoint 0.1.0")));
  EXPECT_THAT(words.cautions, Contains("Population values were used."));
}

// The one rule, for whoever reads it; and nothing that soothes or frightens beside it.
TEST(SessionWordsTest, EachReaderGetsTheRuleForDoubleVisionThatStays) {
  for (const Reader reader : {Reader::kRecord, Reader::kParent, Reader::kSchool}) {
    const SessionWords words = WordsOf(Stored(), reader);
    EXPECT_THAT(words.cautions, Contains(HelpRule(WordsIn::kEnglish)));
    EXPECT_THAT(words.meaning, Not(HasSubstr("harmless")));
  }
}

// 63.5 mm is the limit of adults from the cornea: 6.4 cm here as in the window.
TEST(SessionWordsTest, TheLimitIsRoundedAsEverywhere) {
  EXPECT_THAT(WordsOf(Stored(), Reader::kParent).facts,
              Contains(Pair("Limit", HasSubstr("6.4 cm from"))));
}

TEST(SessionWordsTest, ParentsGetPlainWordsAndTheNextStep) {
  const SessionWords words = WordsOf(Stored(), Reader::kParent);
  EXPECT_THAT(words.result,
              AllOf(HasSubstr("about 9.7 cm"), HasSubstr("farther away than is usual")));
  EXPECT_THAT(words.meaning, HasSubstr("not a diagnosis"));
  EXPECT_THAT(words.next, HasSubstr("eye-care professional"));
  EXPECT_THAT(WordsOf(Stored({30, 32, 31}), Reader::kParent).next,
              HasSubstr("none because of this"));
  EXPECT_THAT(WordsOf(Stored({60, 62, 70}), Reader::kParent).next, HasSubstr("measure again"));
}

TEST(SessionWordsTest, ASchoolGetsNoMeasuredValues) {
  const SessionWords words = WordsOf(Stored(), Reader::kSchool);
  EXPECT_FALSE(words.picture);
  std::string all = words.title + words.result + words.meaning + words.next;
  for (const auto& [name, text] : words.facts) all += text;
  for (const std::string& caution : words.cautions) all += caution;
  for (const char* value : {"97", "9.7", "mm", "cm", "Population"}) {
    EXPECT_THAT(all, Not(HasSubstr(value)));
  }
}

TEST(SessionWordsTest, BoundsAndNothing) {
  StoredSession nose = Stored({});
  Trial trial;
  trial.censored = Censoring::kBelow;
  trial.limit = Length::Millimeters(50);
  nose.data.trials = {trial, trial, trial};
  nose.estimate = EstimateNearPoint(nose.data.trials, {});
  EXPECT_THAT(WordsOf(nose, Reader::kRecord).result, HasSubstr("nearer than"));
  EXPECT_THAT(WordsOf(nose, Reader::kParent).result, HasSubstr("stayed one down to the nearest"));
  StoredSession none = Stored({});
  none.data.started_at.reset();
  EXPECT_THAT(WordsOf(none, Reader::kRecord).result, HasSubstr("Break not known"));
  EXPECT_THAT(WordsOf(none, Reader::kParent).result, HasSubstr("no result"));
  EXPECT_THAT(WordsOf(none, Reader::kParent).when, HasSubstr("not stated"));
  EXPECT_FALSE(ParseReader("doctor"));
}

class SessionPageTest : public testing::Test {
 protected:
  // What a reader of the PDF sees, and how many pages it has.
  std::string TextOf(const std::string& pdf) {
    const std::string file = work_.Write("page.pdf", pdf);
    const std::string to = work_ / "page.txt";
    EXPECT_EQ(std::system(("pdftotext -layout '" + file + "' '" + to + "'").c_str()), 0)
        << "pdftotext is missing; it comes with the package poppler-utils.";
    return work_.Read("page.txt");
  }
  TempFolder work_;
};

TEST_F(SessionPageTest, ReadsBackAsOnePageInEveryWording) {
  for (const PaperSize paper : {PaperSize::kA4, PaperSize::kLetter}) {
    for (const Reader reader : {Reader::kRecord, Reader::kParent, Reader::kSchool}) {
      SessionPageOptions options;
      options.reader = reader;
      options.paper = paper;
      options.person = "Kim Example";
      options.printed = "2026-03-03";
      const auto pdf = SessionPagePdf(Stored(), options);
      ASSERT_THAT(pdf, IsOk());
      const std::string text = TextOf(*pdf);
      EXPECT_EQ(std::ranges::count(text, '\f'), 1);  // one at the end of each page
      EXPECT_THAT(text, AllOf(HasSubstr("Kim Example"), HasSubstr("2026-03-02 at 07:45"),
                              HasSubstr("not a diagnosis"), HasSubstr("Printed 2026-03-03")));
      EXPECT_EQ(text.find("corneal plane (eyes on the left)") != std::string::npos,
                reader != Reader::kSchool);
      EXPECT_THAT(text, Not(HasSubstr("SIMULATED")));
      if (reader == Reader::kRecord) {
        // Method with target, plane, speed and trials; limit with its source; calibration;
        // software.
        EXPECT_THAT(text, AllOf(HasSubstr("Target:"), HasSubstr("Counted from the corneal plane"),
                                HasSubstr("Mean speed"), HasSubstr("trials count"),
                                HasSubstr("Scheiman"), HasSubstr("Scale known to"),
                                HasSubstr("nearpoint 0."), HasSubstr("95 % band")));
      }
    }
  }
}

TEST_F(SessionPageTest, ASimulatedPatientIsSaid) {
  StoredSession session = Stored();
  session.source = "simulated patient";
  for (const Reader reader : {Reader::kRecord, Reader::kParent, Reader::kSchool}) {
    SessionPageOptions options;
    options.reader = reader;
    EXPECT_THAT(TextOf(*SessionPagePdf(session, options)), HasSubstr("SIMULATED PATIENT"));
  }
}

TEST_F(SessionPageTest, EveryShapeOfSessionFitsOrSaysThatItDoesNot) {
  StoredSession odd = Stored({30, 580});
  Trial above;
  above.censored = Censoring::kAbove;
  above.limit = Length::Millimeters(400);
  odd.data.trials.push_back(above);
  odd.plane = ReferencePlane::kSpectacle;
  EXPECT_THAT(SessionPagePdf(odd, {}), IsOk());
  EXPECT_THAT(SessionPagePdf(Stored({}), {}), IsOk());
  StoredSession many = Stored(std::vector<double>(20, 97));
  EXPECT_THAT(SessionPagePdf(many, {}), IsOk());
  many.cautions.assign(60, "One more sentence that a reader of this page has to know about.");
  EXPECT_THAT(SessionPagePdf(many, {}), FailsWith(ErrorCode::kInsufficient, HasSubstr("one page")));
  SessionPageOptions parent;
  parent.reader = Reader::kParent;
  EXPECT_THAT(SessionPagePdf(many, parent), IsOk());
}

}  // namespace
}  // namespace nearpoint
