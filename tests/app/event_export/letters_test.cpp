#include <gmock/gmock.h>

#include "app/event_export/letters_pdf.h"
#include "app/safety/help_rule.h"
#include "tests/support/run_program.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::Not;

ChildState Child(const std::string& name, Finding finding, double break_mm = 94.2) {
  ChildState child;
  child.child.number = "12";
  child.child.name = name;
  child.child.group = "3a";
  Measurement made;
  made.what.break_mm = break_mm;
  made.what.low_mm = break_mm - 10;
  made.what.high_mm = break_mm + 10;
  made.what.cut_off_mm = 73.5;
  made.what.trials_used = 3;
  child.measurements.push_back(made);
  child.counts = 0;
  child.finding = finding;
  return child;
}

EventOpened Event() { return {"Hall", "2026-03-14", EventRule()}; }

std::string All(const LetterWords& words) {
  std::string all = words.title + words.to + words.what + words.result + words.advice + words.sign;
  for (const std::string& caution : words.cautions) all += caution;
  return all;
}

TEST(LettersTest, TheNumberComesWithItsPlaneItsBandAndItsLimit) {
  const LetterWords words =
      LetterFor(Child("Ann Lee", Finding::kSeeProfessional), Event(), LetterLanguage::kEnglish);
  // 94.2 mm from the cornea are 80.7 mm from where spectacles sit.
  EXPECT_THAT(words.result, HasSubstr("8.1 cm"));
  EXPECT_THAT(words.result, HasSubstr("between 7.1 cm and 9.1 cm"));
  EXPECT_THAT(words.result, HasSubstr("where spectacles sit"));
  EXPECT_THAT(words.result, HasSubstr("limit of 6.0 cm"));
  EXPECT_THAT(words.advice, HasSubstr("eye-care professional"));
  const LetterWords german =
      LetterFor(Child("Ann Lee", Finding::kSeeProfessional), Event(), LetterLanguage::kGerman);
  EXPECT_THAT(german.result, HasSubstr("8,1 cm"));
  EXPECT_THAT(german.title, HasSubstr("14.03.2026"));
}

// The same child, measured at home too: the two numbers are of two planes.
TEST(LettersTest, WhatTheSameNearPointReadsAtHomeIsSaid) {
  EXPECT_THAT(
      LetterFor(Child("Ann Lee", Finding::kWithin), Event(), LetterLanguage::kEnglish).result,
      HasSubstr("At home this program counts from the front of the eyes; there the same near point "
                "reads 1.4 cm more."));
  EXPECT_THAT(
      LetterFor(Child("Ann Lee", Finding::kWithin), Event(), LetterLanguage::kGerman).result,
      HasSubstr("um 1,4 cm größer"));
  EventOpened corneal = Event();
  corneal.rule.plane = ReferencePlane::kCorneal;
  EXPECT_THAT(
      LetterFor(Child("Ann Lee", Finding::kWithin), corneal, LetterLanguage::kEnglish).result,
      Not(HasSubstr("At home")));
}

TEST(LettersTest, ALetterRoundsAsTheWindowDoes) {
  // 63.5 mm from where spectacles sit.
  EXPECT_THAT(
      LetterFor(Child("Ann Lee", Finding::kWithin, 77), Event(), LetterLanguage::kEnglish).result,
      HasSubstr("Near point: 6.4 cm"));
}

TEST(LettersTest, NoLetterDiagnosesAndEachSaysSo) {
  for (const LetterLanguage language : {LetterLanguage::kEnglish, LetterLanguage::kGerman}) {
    for (const Finding finding : {Finding::kWithin, Finding::kSeeProfessional,
                                  Finding::kMeasureAgain, Finding::kNotMeasured}) {
      const std::string all = All(LetterFor(Child("Ann Lee", finding), Event(), language));
      EXPECT_THAT(all, testing::AnyOf(HasSubstr("not a diagnosis"), HasSubstr("keine Diagnose")));
      EXPECT_THAT(all, Not(HasSubstr("insufficiency")));
      EXPECT_THAT(all, Not(HasSubstr("Insuffizienz")));
      EXPECT_THAT(all, Not(HasSubstr("healthy")));
    }
  }
}

// One rule for double vision that stays, here as at home.
TEST(LettersTest, EachSaysTheRuleForDoubleVisionThatStays) {
  const ChildState child = Child("Ann Lee", Finding::kWithin);
  EXPECT_EQ(LetterFor(child, Event(), LetterLanguage::kEnglish).cautions.back(),
            HelpRule(WordsIn::kEnglish));
  EXPECT_EQ(LetterFor(child, Event(), LetterLanguage::kGerman).cautions.back(),
            HelpRule(WordsIn::kGerman));
}

TEST(LettersTest, ABoundAValueByTheEyesAndAConflictAreSaid) {
  ChildState child = Child("Ann Lee", Finding::kWithin);
  child.measurements[0].what.break_mm.reset();
  child.measurements[0].what.high_mm = 60.2;
  EXPECT_THAT(LetterFor(child, Event(), LetterLanguage::kEnglish).result,
              HasSubstr("nearer than 4.7 cm"));
  child = Child("Ann Lee", Finding::kWithin);
  child.measurements[0].what.basis = Basis::kEyes;
  EXPECT_THAT(LetterFor(child, Event(), LetterLanguage::kEnglish).result, HasSubstr("eyes alone"));
  child.conflict = true;
  EXPECT_THAT(LetterFor(child, Event(), LetterLanguage::kEnglish).result,
              HasSubstr("side by side"));
}

TEST(LettersTest, WhoNeedsLookingAfterGetsALetterOfItsOwnAndFirst) {
  EventState state;
  state.children = {Child("Ann Lee", Finding::kSeeProfessional),
                    Child("Ben Roe", Finding::kNeedsLookingAfter, 50),
                    Child("Cid", Finding::kNeedsLookingAfter)};
  state.children[1].cautions = state.children[2].cautions = {"pressed"};
  state.children[1].measurements[0].finding = Finding::kWithin;
  state.children[2].counts.reset();  // not measured at all
  for (const bool only_action : {true, false}) {
    const auto who = WhoGetsALetter(state, only_action);
    ASSERT_EQ(who.size(), 3u);
    EXPECT_EQ(who[0]->child.name, "Ben Roe");
    EXPECT_EQ(who[1]->child.name, "Cid");
  }
  for (std::size_t child : {1, 2}) {
    const LetterWords english = LetterFor(state.children[child], Event(), LetterLanguage::kEnglish);
    EXPECT_THAT(english.advice, HasSubstr("have your child examined: today"));
    EXPECT_THAT(All(english), Not(HasSubstr("within the limit")));
    EXPECT_THAT(All(english), Not(HasSubstr("nothing needs to be done")));
    const LetterWords german = LetterFor(state.children[child], Event(), LetterLanguage::kGerman);
    EXPECT_THAT(german.advice, HasSubstr("noch heute"));
    EXPECT_THAT(All(german), Not(HasSubstr("nichts zu tun")));
  }
  EXPECT_THAT(LetterFor(state.children[1], Event(), LetterLanguage::kEnglish).result,
              HasSubstr("changes nothing about the advice"));
  EXPECT_THAT(LetterFor(state.children[2], Event(), LetterLanguage::kEnglish).result,
              HasSubstr("No measurement"));
}

TEST(LettersTest, TwoUnderOneNumberGetLettersThatTellThemApart) {
  ChildState one = Child("", Finding::kWithin), two = one;
  one.number_shared = two.number_shared = true;
  one.added_by = "Ines", one.added_at = "2026-03-14T09:26:00Z";
  two.added_by = "Ole", two.added_at = "2026-03-14T10:02:00Z";
  for (const LetterLanguage language : {LetterLanguage::kEnglish, LetterLanguage::kGerman}) {
    EXPECT_THAT(LetterFor(one, Event(), language).to, HasSubstr("09:26"));
    EXPECT_THAT(LetterFor(two, Event(), language).to, HasSubstr("Ole"));
  }
}

TEST(LettersTest, OnePageAChildInOneFile) {
  const std::vector<ChildState> children{Child("Ann Lee", Finding::kSeeProfessional),
                                         Child("Zoë Groß", Finding::kMeasureAgain),
                                         Child("", Finding::kNotMeasured)};
  std::vector<const ChildState*> all;
  all.reserve(children.size());
  for (const ChildState& child : children) all.push_back(&child);
  for (const LetterLanguage language : {LetterLanguage::kEnglish, LetterLanguage::kGerman}) {
    const auto pdf = LettersPdf(all, Event(), {language, PaperSize::kA4});
    ASSERT_TRUE(pdf);
    const TempFolder folder;
    const std::string file = folder.Write("letters.pdf", *pdf);
    const ProgramRun info = RunProgram("/usr/bin/pdfinfo", {file});
    EXPECT_THAT(info.out, HasSubstr("Pages:           3"));
    for (int page = 1; page <= 3; ++page) {
      const std::string number = std::to_string(page);
      const ProgramRun text =
          RunProgram("/usr/bin/pdftotext", {"-f", number, "-l", number, file, "-"});
      EXPECT_THAT(text.out, HasSubstr("____"));  // the last line is still on its page
      if (page == 2) {
        EXPECT_THAT(text.out, HasSubstr("Zoë Groß"));
        EXPECT_THAT(text.out, Not(HasSubstr("Ann Lee")));
      }
    }
  }
  EXPECT_FALSE(LettersPdf({}, Event()));
}

}  // namespace
}  // namespace nearpoint
