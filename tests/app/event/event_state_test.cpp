#include "app/event/event_state.h"

#include <gmock/gmock.h>

#include <random>

#include "app/event/session_files.h"
#include "tests/app/event/event_log.h"

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

class EventStateTest : public testing::Test {
 protected:
  EventStateTest() : a_("A", log_), b_("B", log_) {
    a_.Write("", EventOpened{"Hall", "2026-03-14", EventRule()});
    for (int i = 1; i <= 3; ++i) {
      const std::string number = std::to_string(i);
      a_.Write("c" + number, NewChild(number, names_[i - 1], "3a"));
      a_.Write("c" + number, ConsentTaken{true, "form"});
    }
    b_.Merge();
  }
  [[nodiscard]] ChildState Child(const std::string& uuid) const {
    const EventState state = StateOf(log_);
    return *state.Find(uuid);
  }

  std::vector<std::string> names_{"Zoë Müller", "Jean-Luc Dupont", "Anna Groß"};
  std::vector<EventRecord> log_;
  LogStation a_, b_;
};

TEST_F(EventStateTest, FollowsAChildFromWaitingToDone) {
  EXPECT_EQ(Child("c1").stage, ChildStage::kWaiting);
  a_.Write("c1", MeasuringStarted());
  EXPECT_EQ(Child("c1").stage, ChildStage::kMeasuring);
  EXPECT_EQ(Child("c1").at_station, "A");
  a_.Write("c1", MeasuringStopped{StopReason::kPaused});
  EXPECT_EQ(Child("c1").stage, ChildStage::kPaused);
  a_.Measure("c1", 0.9);
  EXPECT_EQ(Child("c1").stage, ChildStage::kDone);
  EXPECT_EQ(Child("c1").finding, Finding::kSeeProfessional);
  a_.Write("c2", MeasuringStopped{StopReason::kAbsent});
  EXPECT_EQ(Child("c2").stage, ChildStage::kLeft);
  EXPECT_EQ(Child("c2").stopped, StopReason::kAbsent);
}

TEST_F(EventStateTest, TheRuleDecidesAtItsBounds) {
  const EventRule rule;
  EXPECT_EQ(Judge(rule, 2, 0.80), Finding::kSeeProfessional);
  EXPECT_EQ(Judge(rule, 2, 0.799), Finding::kMeasureAgain);
  EXPECT_EQ(Judge(rule, 2, 0.50), Finding::kMeasureAgain);
  EXPECT_EQ(Judge(rule, 2, 0.499), Finding::kWithin);
  EXPECT_EQ(Judge(rule, 1, 0.01), Finding::kMeasureAgain);  // one trial is not two
  EXPECT_EQ(Judge(rule, 0, std::nullopt), Finding::kNotMeasured);
}

// Merging is a union: any order and any repetition of the records gives the same.
TEST_F(EventStateTest, OrderAndRepetitionOfRecordsDoNotMatter) {
  const Uuid first = a_.Measure("c1", 0.1);
  b_.Measure("c1", 0.9);  // did not know of the first
  const Uuid wrong = a_.Measure("c2", 0.6);
  a_.Write("c2", Moved{wrong, "c3"});
  a_.Write("c1", Undone{first});
  b_.Write("c2", MeasuringStopped{StopReason::kUnable});
  const auto say = [](const EventState& state) {
    std::string text;
    for (const ChildState& child : state.children) {
      text += child.child.number + std::to_string(static_cast<int>(child.stage)) +
              std::to_string(static_cast<int>(child.finding)) +
              std::to_string(child.measurements.size()) + (child.conflict ? "!" : "") +
              child.at_station + ";";
    }
    return text;
  };
  const std::string expected = say(StateOf(log_));
  std::mt19937 random(5);
  std::vector<EventRecord> shuffled = log_;
  shuffled.insert(shuffled.end(), log_.begin(), log_.end());
  for (int i = 0; i < 50; ++i) {
    std::ranges::shuffle(shuffled, random);
    ASSERT_EQ(say(StateOf(shuffled)), expected);
  }
}

TEST_F(EventStateTest, TwoThatDidNotKnowOfEachOtherAreAConflictAndBothStay) {
  const Uuid one = a_.Measure("c1", 0.1);
  const Uuid two = b_.Measure("c1", 0.9);
  ChildState child = Child("c1");
  EXPECT_TRUE(child.conflict);
  EXPECT_THAT(child.measurements, SizeIs(2));
  EXPECT_EQ(child.finding, Finding::kMeasureAgain);  // they disagree

  // Somebody decides; what nobody had seen stays open.
  a_.Merge();
  a_.Write("c1", Settled{two, {one}});
  child = Child("c1");
  EXPECT_FALSE(child.conflict);
  EXPECT_EQ(child.measurements[*child.counts].uuid, two);
  EXPECT_EQ(child.finding, Finding::kSeeProfessional);
  EXPECT_THAT(child.measurements, SizeIs(2));
  b_.Measure("c1", 0.2);
  EXPECT_TRUE(Child("c1").conflict);
}

// Pressed after a measurement that lies within the limit, and before another station measures.
TEST_F(EventStateTest, WhoNeedsLookingAfterNeedsItWhateverIsMeasured) {
  a_.Measure("c1", 0.1);
  const Uuid pressed = a_.Write("c1", MeasuringStopped{StopReason::kCaution});
  EXPECT_EQ(Child("c1").finding, Finding::kNeedsLookingAfter);
  EXPECT_EQ(Child("c1").stage, ChildStage::kDone);
  b_.Measure("c1", 0.05);  // merged later
  b_.Write("c1", MeasuringStopped{StopReason::kPaused});
  EXPECT_EQ(Child("c1").finding, Finding::kNeedsLookingAfter);
  const auto may = MayStart(Child("c1"), "A", /*anyway=*/true);
  ASSERT_FALSE(may);
  EXPECT_EQ(may.error().code, ErrorCode::kInsufficient);
  b_.Write("c2", MeasuringStopped{StopReason::kCaution});
  EXPECT_EQ(Child("c2").finding, Finding::kNeedsLookingAfter);
  EXPECT_EQ(Child("c2").stage, ChildStage::kLeft);
  // Only somebody who takes it back ends it.
  b_.Write("c1", Undone{pressed});
  EXPECT_EQ(Child("c1").finding, Finding::kWithin);
  EXPECT_TRUE(MayStart(Child("c1"), "A", true));
}

// Two stations that could not know of each other: two children, one number.
TEST_F(EventStateTest, OneNumberGivenTwiceIsTwoChildrenUntilOneGetsAnother) {
  a_.Write("w1", NewChild("W-7"));
  b_.Write("w2", NewChild("w-7"));
  a_.Measure("w1", 0.1);
  b_.Measure("w2", 0.9);
  EXPECT_TRUE(Child("w1").number_shared);
  EXPECT_TRUE(Child("w2").number_shared);
  EXPECT_EQ(Child("w2").added_by, "volunteer B");
  EXPECT_FALSE(Child("c1").number_shared);
  EXPECT_THAT(StateOf(log_).contradictions, SizeIs(1));
  const auto files = SessionFilesOf(StateOf(log_));
  ASSERT_THAT(files, SizeIs(2));
  EXPECT_NE(files[0].name, files[1].name);
  a_.Merge();
  a_.Write("w2", NewChild("8"));
  EXPECT_FALSE(Child("w1").number_shared);
  EXPECT_EQ(Child("w2").child.number, "8");
  EXPECT_EQ(Child("w2").finding, Finding::kSeeProfessional);  // its own still
  EXPECT_THAT(StateOf(log_).contradictions, IsEmpty());
}

TEST_F(EventStateTest, BothOfAConflictHaveAFileOfTheirOwnMadeOfDigits) {
  a_.Write("w", NewChild("../../etc"));
  a_.Measure("w", 0.1);
  b_.Measure("w", 0.9);
  const EventState state = StateOf(log_);
  std::vector<std::string> names;
  for (const SessionFile& file : SessionFilesOf(state)) names.push_back(file.name);
  EXPECT_THAT(names, ElementsAre("0004.json", "0004-2.json"));
}

TEST_F(EventStateTest, ARepeatIsNoConflictAndUndoingItBringsTheFirstBack) {
  const Uuid one = a_.Measure("c1", 0.6);
  const Uuid two = b_.Measure("c1", 0.1, {one});
  EXPECT_FALSE(Child("c1").conflict);
  EXPECT_EQ(Child("c1").finding, Finding::kWithin);
  b_.Write("c1", Undone{two});
  const ChildState child = Child("c1");
  EXPECT_EQ(child.finding, Finding::kMeasureAgain);
  EXPECT_EQ(child.measurements[*child.counts].uuid, one);
  EXPECT_TRUE(child.measurements[1].undone);
  b_.Write("c1", Undone{one});
  EXPECT_EQ(Child("c1").stage, ChildStage::kWaiting);
  EXPECT_THAT(Child("c1").measurements, SizeIs(2));
}

TEST_F(EventStateTest, ASwapGivesEachChildItsOwn) {
  const Uuid one = a_.Measure("c1", 0.1);
  const Uuid two = a_.Measure("c2", 0.9);
  a_.Write("c1", Moved{one, "c2"});
  a_.Write("c2", Moved{two, "c1"});
  EXPECT_EQ(Child("c1").finding, Finding::kSeeProfessional);
  EXPECT_EQ(Child("c2").finding, Finding::kWithin);
  EXPECT_TRUE(Child("c1").measurements.front().moved);
}

TEST_F(EventStateTest, NobodyIsMeasuredWithoutConsentOrTwiceUnseen) {
  EXPECT_TRUE(MayStart(Child("c1"), "A", false));
  a_.Write("c1", MeasuringStarted());
  EXPECT_TRUE(MayStart(Child("c1"), "A", false));
  const auto elsewhere = MayStart(Child("c1"), "B", false);
  ASSERT_FALSE(elsewhere);
  EXPECT_EQ(elsewhere.error().code, ErrorCode::kMismatch);
  EXPECT_TRUE(MayStart(Child("c1"), "B", true));  // taken over, knowingly
  a_.Measure("c1", 0.1);
  EXPECT_FALSE(MayStart(Child("c1"), "A", false));

  a_.Write("c4", NewChild("4"));
  const auto unasked = MayStart(Child("c4"), "A", true);
  ASSERT_FALSE(unasked);
  EXPECT_EQ(unasked.error().code, ErrorCode::kInsufficient);
  a_.Write("c4", ConsentTaken{false, "parent present"});
  EXPECT_THAT(MayStart(Child("c4"), "A", true).error().message, HasSubstr("refused"));
  a_.Write("c4", ConsentTaken{true, "parent present"});
  EXPECT_TRUE(MayStart(Child("c4"), "A", false));
}

// Trials of a measurement that was not finished are there for the station that made them, until it
// is finished or begun afresh.
TEST_F(EventStateTest, OpenTrialsBelongToTheStationThatMadeThem) {
  const auto open = [&] { return Child("c1").open_trials.size(); };
  a_.Write("c1", MeasuringStarted());
  a_.Write("c1", TrialMade{"one", "", false});
  EXPECT_EQ(open(), 1u);
  EXPECT_EQ(Child("c1").stage, ChildStage::kMeasuring);
  a_.Write("c1", MeasuringStopped{StopReason::kPaused});
  EXPECT_EQ(open(), 1u);
  EXPECT_EQ(Child("c1").open_at, "A");
  a_.Write("c1", MeasuringStarted{.afresh = false});
  a_.Write("c1", TrialMade{"two", "", false});
  EXPECT_EQ(Child("c1").open_trials[1].trial, "two");
  a_.Write("c1", MeasuringStarted());
  EXPECT_EQ(open(), 0u);
  a_.Write("c1", TrialMade{"three", "", false});
  a_.Measure("c1", 0.2);
  EXPECT_EQ(open(), 0u);
  // Another station has another camera, whatever it says.
  a_.Write("c2", MeasuringStarted());
  a_.Write("c2", TrialMade{"one", "", false});
  b_.Merge();
  b_.Write("c2", MeasuringStarted{.afresh = false});
  EXPECT_TRUE(Child("c2").open_trials.empty());
  b_.Write("c2", TrialMade{"other", "", false});
  EXPECT_EQ(Child("c2").open_at, "B");
  EXPECT_EQ(Child("c2").open_trials.size(), 1u);
}

TEST_F(EventStateTest, UndoingDoesNotTakeAChildFromTheStationItIsAt) {
  const Uuid measured = a_.Measure("c1", 0.6);
  b_.Merge();
  b_.Write("c1", MeasuringStarted());
  a_.Merge();
  a_.Write("c1", Undone{measured});
  EXPECT_EQ(Child("c1").stage, ChildStage::kMeasuring);
  EXPECT_EQ(Child("c1").at_station, "B");
  EXPECT_FALSE(MayStart(Child("c1"), "A", false));
}

TEST_F(EventStateTest, SaysWhenANumberWasGivenTwiceAndKeepsBoth) {
  b_.Write("c9", NewChild("2", "Somebody"));
  const EventState state = StateOf(log_);
  EXPECT_THAT(state.children, SizeIs(4));
  EXPECT_THAT(state.contradictions, ElementsAre(HasSubstr("number 2")));
}

TEST_F(EventStateTest, AMeasurementWhoseChildIsNotListedYetIsSaid) {
  b_.Measure("unknown", 0.3);
  const EventState state = StateOf(log_);
  EXPECT_THAT(state.children, SizeIs(3));
  EXPECT_THAT(state.contradictions, SizeIs(1));
}

TEST_F(EventStateTest, AFewLettersFindTheChild) {
  const EventState state = StateOf(log_);
  const auto first = [&](std::string_view typed) -> std::string {
    const auto found = FindChildren(state, typed, 8);
    return found.empty() ? "" : found.front()->child.name;
  };
  EXPECT_EQ(first("mul"), "Zoë Müller");
  EXPECT_EQ(first("MÜL zo"), "Zoë Müller");
  EXPECT_EQ(first("luc"), "Jean-Luc Dupont");
  EXPECT_EQ(first("gross"), "Anna Groß");
  EXPECT_EQ(first("3"), "Anna Groß");  // the number before the class
  EXPECT_EQ(first("3a an"), "Anna Groß");
  EXPECT_THAT(FindChildren(state, "uller", 8), IsEmpty());  // words are matched from their start
  EXPECT_THAT(FindChildren(state, "", 2), SizeIs(2));
}

}  // namespace
}  // namespace nearpoint
