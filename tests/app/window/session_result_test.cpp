// What a person is told of a stored session.
#include "app/window/session_result.h"

#include <gmock/gmock.h>

#include <QLabel>

#include "app/window/keep_calibration.h"
#include "app/window/language.h"
#include "app/window/session_keeper.h"
#include "app/window/trace.h"
#include "app/window/words.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/stored_session.h"

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

class SessionResultTest : public testing::Test {
 protected:
  SessionResult Of(std::initializer_list<double> breaks, bool practice = false) {
    std::vector<StoredTrial> trials;
    for (const double mm : breaks) {
      trials.push_back(ComputedTrial(static_cast<int>(trials.size()) + 1, mm, mm + 29));
    }
    return Read(trials, practice);
  }
  SessionResult Read(const std::vector<StoredTrial>& trials, bool practice = false) {
    const RowId id = AddSession(home_.store(), 0, trials, practice);
    return ReadResult(home_.store(), home_.store().FindSession(id).value());
  }
  ~SessionResultTest() override { UseLanguage("en"); }

  Home home_;
};

TEST_F(SessionResultTest, HoldsTheNumberAgainstTheLimit) {
  // Scheiman 2003: 5 cm, counted from the spectacle plane; 6.35 cm from the cornea (computed).
  const SessionResult far = Of({92, 96, 94});
  EXPECT_DOUBLE_EQ(far.estimate.cut_off.mm(), 63.5);
  EXPECT_EQ(far.estimate.answer, Answer::kBeyond);
  EXPECT_EQ(MeaningSentence(far).toStdString(),
            "You see two already at about 9.4\u00a0cm: farther away than the usual limit.");
  EXPECT_EQ(Of({45, 43, 46}).estimate.answer, Answer::kWithin);
  EXPECT_FALSE(MeaningSentence(Of({45, 43, 46})).contains("should be"));
  const SessionResult between = Of({60, 66, 71});
  EXPECT_EQ(between.estimate.answer, Answer::kCannotTell);
  EXPECT_TRUE(MeaningSentence(between).contains("cannot tell"));
}

// Double vision that stays, or pain, comes before the number: "nothing to do now" would be wrong.
TEST_F(SessionResultTest, TroubleComesBeforeTheNumber) {
  SessionResult within = Of({45, 43, 46});
  ASSERT_TRUE(NextSentence(within).contains("Nothing to do now"));
  for (const char* comfort : {"double", "discomfort"}) {
    within.session.comfort = comfort;
    EXPECT_FALSE(NextSentence(within).contains("Nothing to do"));
    EXPECT_TRUE(NextSentence(within).contains("First ask somebody"));
    EXPECT_FALSE(ComfortSentence(within).isEmpty());
  }
}

TEST_F(SessionResultTest, PracticeIsNeverTakenForAMeasurement) {
  const SessionResult practice = Of({92, 96, 94}, true);
  EXPECT_TRUE(MeaningSentence(practice).contains("practice"));
  EXPECT_FALSE(MeaningSentence(practice).contains("limit"));
}

TEST_F(SessionResultTest, WithoutATrialThatCountsNothingIsClaimed) {
  auto trial = ComputedTrial(1, 92, 121);
  trial.trial.set_aside = SetAside::kTooFast;
  const SessionResult none = Read({trial});
  EXPECT_FALSE(none.estimate.break_mm);
  EXPECT_TRUE(MeaningSentence(none).contains("nothing can be said"));
}

TEST_F(SessionResultTest, ABoundIsSaidAsABound) {
  std::vector<StoredTrial> trials;
  for (int number = 1; number <= 3; ++number) {
    StoredTrial trial = ComputedTrial(number, 50, 79);
    trial.trial.break_point.reset();
    trial.trial.recovery.reset();
    trial.trial.censored = Censoring::kBelow;
    trial.trial.limit = Length::Millimeters(47);
    trials.push_back(trial);
  }
  EXPECT_TRUE(ShortSentence(Read(trials)).startsWith("One all the way: nearer than"));
}

TEST_F(SessionResultTest, SpeaksGermanWithGermanNumbers) {
  UseLanguage("de");
  EXPECT_TRUE(MeaningSentence(Of({92, 96, 94})).contains(QString::fromUtf8("9,4\u00a0cm")));
  EXPECT_EQ(words::Lost(LostReason::kHeadTurned).toStdString(),
            "Dreh dein Gesicht gerade zur Kamera.");
}

TEST(WordsTest, EveryReasonHasASentenceInEachLanguage) {
  for (const char* language : {"en", "de"}) {
    UseLanguage(language);
    for (const LostReason reason :
         {LostReason::kNoFace, LostReason::kEyesClosed, LostReason::kEyesHalfClosed,
          LostReason::kEyesHidden, LostReason::kTooFar, LostReason::kTooClose,
          LostReason::kHeadTurned, LostReason::kInconsistent, LostReason::kNoCard,
          LostReason::kTooDark}) {
      EXPECT_FALSE(words::Lost(reason).isEmpty());
    }
    for (const SetAside reason :
         {SetAside::kTooFast, SetAside::kTrackingLost, SetAside::kNoApproach,
          SetAside::kResponseEarly, SetAside::kNoResponse, SetAside::kNotLooking,
          SetAside::kOneEyeCovered}) {
      EXPECT_FALSE(words::SetAside(reason).isEmpty());
    }
    for (const FlowPhase phase : {FlowPhase::kFind, FlowPhase::kMoveBack, FlowPhase::kReady,
                                  FlowPhase::kApproach, FlowPhase::kAsNear, FlowPhase::kReturn,
                                  FlowPhase::kSettle, FlowPhase::kRest, FlowPhase::kDone}) {
      FlowState state;
      state.phase = phase;
      EXPECT_FALSE(words::ForPhase(state).headline.isEmpty());
      EXPECT_FALSE(words::ForPhase(state).line.isEmpty());
    }
  }
  UseLanguage("en");
}

TEST(NormForTest, GoesByAge) {
  const QDate today(2026, 3, 14);
  Person person;
  EXPECT_EQ(NormFor(std::nullopt, today), "scheiman-2003");
  EXPECT_EQ(NormFor(person, today), "scheiman-2003");
  person.birth_year = 2016;
  EXPECT_NE(NormFor(person, today), "scheiman-2003");
  person.birth_year = 1990;
  EXPECT_EQ(NormFor(person, today), "scheiman-2003");
}

// Fourteen months after the face and the hand were measured, and one after the rest.
class OldProfileTest : public testing::Test {
 protected:
  OldProfileTest() {
    const auto on = [](const char* day) {
      Origin origin;
      origin.date = ParseDay(day).value();
      origin.software = "0.1.0";
      origin.method = "card";
      return origin;
    };
    facts_.profile = DefaultProfile();
    auto& made = facts_.profile.made;
    made.face = made.lag = on("2025-01-10");
    made.camera = made.target = on("2026-02-14");
  }
  // A trial measured with that profile, kept as the window does.
  SessionResult Keep() {
    const StoredTrial computed = ComputedTrial(1, 92, 121);
    FlowTrial trial;
    trial.trial = computed.trial;
    trial.events = computed.events;
    home_.context().session = 0;
    SessionKeeper keeper(home_.context());
    const MeasureFlow flow(FlowRules(), keeper.options(), keeper.plan(), {trial.trial});
    EXPECT_TRUE(keeper.Keep(trial, flow, facts_));
    return ReadResult(home_.store(), home_.store().FindSession(home_.context().session).value());
  }
  ~OldProfileTest() override { UseLanguage("en"); }

  Home home_;
  LiveFacts facts_;
};

TEST_F(OldProfileTest, IsSaidInTheSessionAndInItsDetails) {
  const SessionResult result = Keep();
  ASSERT_FALSE(result.error) << result.error->message;
  const std::string& session = result.session.session_json;
  EXPECT_THAT(session, HasSubstr("The face was measured 14 months ago, on 2025-01-10"));
  EXPECT_THAT(session, HasSubstr("The response time was measured 14 months ago"));
  EXPECT_THAT(session, Not(HasSubstr("The camera was measured")));
  EXPECT_THAT(session, HasSubstr("population values were used"));
  EXPECT_THAT(result.old_parts, ElementsAre(ProfilePart::kFace, ProfilePart::kLag));
  EXPECT_TRUE(BasisSentence(result).contains("measured with the card more than half a year"));
  EXPECT_FALSE(BasisSentence(result).contains("more than two years"));
  UseLanguage("de");
  EXPECT_TRUE(BasisSentence(result).contains("mehr als ein halbes Jahr"));
}

TEST_F(OldProfileTest, SaysNothingOfASimulatedPerson) {
  home_.context().practice = true;
  const SessionResult result = Keep();
  EXPECT_THAT(result.session.session_json, Not(HasSubstr("months ago")));
  EXPECT_THAT(result.session.session_json, HasSubstr("Practice with a simulated patient"));
}

TEST_F(OldProfileTest, ACardThatNeverTouchedTheNoseIsSaid) {
  facts_.profile.held_card = HeldCardSetup{};
  EXPECT_THAT(Keep().session.session_json, HasSubstr("never touched the nose"));
  EXPECT_THAT(Keep().session.session_json, HasSubstr("measured the printed card that was held"));
  facts_.profile.print = PrintScale{1, 1, 0.003};
  facts_.profile.made.print = facts_.profile.made.camera;
  EXPECT_THAT(Keep().session.session_json, Not(HasSubstr("printed card that was held")));
  facts_.profile.held_card->zero = UncertainLength{Length(), Length::Millimeters(2)};
  EXPECT_THAT(Keep().session.session_json, Not(HasSubstr("never touched the nose")));
}

// Nothing is claimed of a profile that cannot be read, and the hand counts as unmeasured.
TEST_F(SessionResultTest, AProfileThatCannotBeReadIsSaid) {
  const RowId id =
      AddSession(home_.store(), 0, {ComputedTrial(1, 92, 121), ComputedTrial(2, 95, 124)});
  HomeSession session = home_.store().FindSession(id).value();
  const SessionResult read = ReadResult(home_.store(), session);
  EXPECT_FALSE(read.unread_profile);
  EXPECT_TRUE(BasisSentence(read).contains("lengths of an average face"));
  for (const std::string text : {"", "{}", "{\"schema\": \"nearpoint/profile/99\"}"}) {
    session.setup.profile_json = text;
    const SessionResult unread = ReadResult(home_.store(), session);
    ASSERT_FALSE(unread.error);
    ASSERT_TRUE(unread.unread_profile) << text;
    EXPECT_FALSE(BasisSentence(unread).contains("lengths of an average face"));
    EXPECT_TRUE(BasisSentence(unread).contains("cannot be read"));
    // The default profile has no measured hand either: the same band.
    EXPECT_EQ(unread.estimate.break_mm->low, read.estimate.break_mm->low);
    EXPECT_EQ(*unread.estimate.break_mm->high, *read.estimate.break_mm->high);
  }
  UseLanguage("de");
  session.setup.profile_json = "{";
  EXPECT_TRUE(BasisSentence(ReadResult(home_.store(), session)).contains("nicht lesen"));
}

TEST_F(SessionResultTest, ACalibrationThatCannotBeReadIsSaidAtHome) {
  Person person;
  person.name = "Mira";
  person = home_.store().AddPerson(person).value();
  ASSERT_TRUE(home_.store().AddCalibration(person.id, "{\"schema\": \"nearpoint/profile/99\"}"));
  MainWindow& window = home_.Open();
  const auto said = [&window] {
    window.Show(PageId::kHome);
    for (const QLabel* label : window.page()->findChildren<QLabel*>()) {
      if (label->text().contains("cannot be read")) return true;
    }
    return false;
  };
  EXPECT_TRUE(said());
  EXPECT_FALSE(home_.context().calibrated);
  // Until another is measured, and it is not of the simulated person.
  home_.context().practice = true;
  EXPECT_FALSE(said());
  home_.context().practice = false;
  EXPECT_TRUE(said());
  ASSERT_TRUE(KeepCalibration(home_.context(), DefaultProfile()));
  EXPECT_FALSE(said());
}

TEST(TraceTest, ReadsBackWhatWasWrittenAndKeepsItsGaps) {
  const StoredTrial trial = ComputedTrial(1, 92, 121);
  const TrialTrace trace = ParseTrace(trial.track_jsonl);
  ASSERT_GT(trace.points.size(), 100u);
  EXPECT_NEAR(*trace.points[10].distance_mm, 340 - 15 * trace.points[10].seconds, 0.01);
  EXPECT_LT(trace.seen_fraction, 1);  // blinks
  EXPECT_GT(trace.seen_fraction, 0.9);
  EXPECT_TRUE(ParseTrace("not json\n{}\n").points.empty());
}

}  // namespace
}  // namespace nearpoint
