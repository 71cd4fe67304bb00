// The whole measurement with the card that is brought to the nose, in the window, on the simulated
// person, by keyboard.
#include <gmock/gmock.h>

#include <QLabel>
#include <algorithm>
#include <atomic>
#include <memory>

#include "app/records/trial_json.h"
#include "app/window/near_point_scale.h"
#include "app/window/pages/measure_page.h"
#include "app/window/practice_card.h"
#include "calibration/profile_json.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"
#include "tests/app/window/stored_session.h"
#include "tests/app/window/unpluggable.h"

namespace nearpoint {
namespace {

using testing::Ge;
using testing::HasSubstr;
using testing::SizeIs;

PracticeOptions QuickCard() {
  PracticeOptions options = Quickly(PracticeWithCard());
  options.presses = false;
  options.patient.optics.camera = simulate::PinholeCamera(960, 540, Angle::Degrees(60));
  options.patient.card->face_distance = Length::Millimeters(420);
  return options;
}

class MeasureCardTest : public testing::Test {
 protected:
  MeasureCardTest() {
    Person person;
    person.name = "Mira";
    person.birth_year = 1990;
    EXPECT_TRUE(home_.store().AddPerson(person));
    EXPECT_TRUE(home_.store().SetSetting("target", "card"));
    home_.Open(/*practice=*/true);
    home_.context().open_source = [](const AppContext&) { return OpenPractice(QuickCard()); };
  }
  [[nodiscard]] const FlowState& flow() {
    return static_cast<const MeasurePage&>(*home_.window().page()).flow().state();
  }
  // From the key that begins to the question after the last trial, without waiting in the rests.
  [[nodiscard]] bool MeasureToTheEnd() {
    MainWindow& window = home_.window();
    window.Show(PageId::kMeasure);
    PressKey(window, Qt::Key_Space);
    return RunUntil([&] {
      if (window.shown() != PageId::kMeasure) return true;
      if (flow().phase == FlowPhase::kRest) PressKey(window, Qt::Key_Space);
      return false;
    });
  }
  static simulate::TrialTruth TruthOf(int number) {
    PracticeOptions options = QuickCard();
    options.patient.behaviour.trials = 1;
    options.patient.seed += static_cast<std::uint64_t>(number);
    return simulate::MakeScript(options.patient).trials.at(0);
  }

  Home home_;
};

// A touch that was practised counts in the practice after it, with the face that it belongs to.
TEST_F(MeasureCardTest, APractisedTouchIsUsed) {
  const auto open = [&] { return UsualSource(home_.context())().value().profile; };
  const Profile untouched = open();
  ASSERT_TRUE(untouched.held_card);
  EXPECT_FALSE(untouched.held_card->zero);
  Profile& practised = PracticeCardOf(home_.context()).context().profile;
  practised.face.distance_pd = {Length::Millimeters(64), Length::Millimeters(2.6)};
  EXPECT_EQ(open().face.distance_pd->value, untouched.face.distance_pd->value);  // no touch yet
  practised.held_card = HeldCardSetup{};
  practised.held_card->zero = {Length::Millimeters(-7), Length::Millimeters(3.4)};
  const Profile touched = open();
  ASSERT_TRUE(touched.held_card && touched.held_card->zero);
  EXPECT_EQ(touched.held_card->zero->value.mm(), -7);
  EXPECT_EQ(touched.face.distance_pd->value.mm(), 64);
  EXPECT_FALSE(touched.face.iris);
  EXPECT_EQ(touched.camera.fx, untouched.camera.fx);
  // Who leans in has no card, and a practice that was left is forgotten.
  EXPECT_TRUE(home_.store().SetSetting("target", "printed"));
  EXPECT_FALSE(open().held_card);
  EXPECT_EQ(open().face.distance_pd->value, untouched.face.distance_pd->value);
}

TEST_F(MeasureCardTest, TheCardIsBroughtToTheNoseUntilThereIsAResult) {
  MainWindow& window = home_.window();
  PressDriver driver(home_.live(), window);
  ASSERT_TRUE(MeasureToTheEnd());
  ASSERT_EQ(window.shown(), PageId::kComfort);
  ASSERT_TRUE(Choose(window, "fine"));
  ASSERT_TRUE(RunUntil([&] { return window.shown() == PageId::kResult; }));

  const RowId id = home_.context().session;
  const auto session = home_.store().FindSession(id);
  ASSERT_TRUE(session);
  EXPECT_TRUE(session->ended_at);
  EXPECT_EQ(session->comfort, "fine");
  EXPECT_TRUE(session->setup.practice);
  EXPECT_THAT(session->session_json, HasSubstr("\"target_on\": \"card\""));
  EXPECT_THAT(session->session_json, HasSubstr("never touched the nose"));
  EXPECT_TRUE(ParseProfile(session->setup.profile_json, "stored")->held_card);
  EXPECT_NE(window.page()->findChild<NearPointScale*>(), nullptr);

  // The press is four frames after the change, 333 ms, and the profile corrects for 320 ms. A frame
  // is 83 ms: 1.5 mm in and 3.3 mm back. Single frames of a held card are 3 mm off at most
  // (held_card_test.cpp).
  const auto trials = home_.store().Trials(id);
  ASSERT_TRUE(trials);
  ASSERT_THAT(*trials, SizeIs(Ge(3)));
  for (const StoredTrial& stored : *trials) {
    const Trial& trial = stored.trial;
    ASSERT_FALSE(trial.set_aside) << TrialToText(trial);
    ASSERT_TRUE(trial.break_point && trial.recovery) << TrialToText(trial);
    const simulate::TrialTruth truth = TruthOf(trial.number);
    EXPECT_NEAR(trial.break_point->value.value.mm(), truth.break_distance.mm(), 5)
        << "trial " << trial.number;
    EXPECT_NEAR(trial.recovery->value.value.mm(), truth.recovery_distance.mm(), 7)
        << "trial " << trial.number;
    EXPECT_THAT(stored.events, SizeIs(4));
  }
  // What was heard: what the hand is to do, and each key.
  const RecordedSound& sound = home_.sound();
  EXPECT_TRUE(sound.said.contains("Bring the card slowly nearer. Any key when you see two."));
  EXPECT_TRUE(sound.said.contains("Two. Move the card slowly back. Any key when it is one again."));
  EXPECT_FALSE(sound.said.contains("Come slowly nearer. Any key when you see two."));
  ASSERT_THAT(sound.heard, SizeIs(2 * trials->size()));
  for (std::size_t i = 0; i < sound.heard.size(); ++i) EXPECT_EQ(sound.heard[i], i % 2 == 0);
  // The tone: steady at this pace for most of the way, and higher the nearer.
  std::vector<double> good;
  for (const auto& tone : sound.tones) {
    if (tone.pace == PaceTone::kGood) good.push_back(tone.height);
  }
  ASSERT_THAT(good, SizeIs(Ge(100)));
  EXPECT_LT(std::ranges::min(good), 0.2);
  EXPECT_GT(std::ranges::max(good), 0.7);
}

// Unplugged while the card is on its way: a sentence, the trial before is safe, and any key goes on
// with the same trial of the same session.
TEST_F(MeasureCardTest, GoesOnAfterTheCameraWasUnpluggedInMidTrial) {
  const auto unplugged = std::make_shared<std::atomic<bool>>(false);
  home_.context().open_source = [unplugged](const AppContext&) {
    return OpenUnpluggable(OpenPractice(QuickCard()), unplugged);
  };
  MainWindow& window = home_.window();
  // As somebody who goes on: a trial is there.
  const RowId session = AddSession(home_.store(), home_.context().person->id,
                                   {ComputedTrial(1, 92, 121)}, /*practice=*/true);
  const std::string first = TrialToText(home_.store().Trials(session)->at(0).trial);
  home_.context().session = session;
  PressDriver driver(home_.live(), window);
  window.Show(PageId::kMeasure);
  PressKey(window, Qt::Key_Space);
  ASSERT_TRUE(RunUntil([&] {
    return flow().phase == FlowPhase::kApproach && flow().distance && flow().distance->mm() < 250;
  }));
  EXPECT_EQ(flow().trial, 2);
  *unplugged = true;
  ASSERT_TRUE(RunUntil([&] { return !home_.live().running(); }));
  ASSERT_TRUE(RunUntil([&] { return flow().phase == FlowPhase::kFind; }));
  const auto says = [&](const QString& part) {
    for (const QLabel* label : window.page()->findChildren<QLabel*>()) {
      if (label->isVisible() && label->text().contains(part)) return true;
    }
    return false;
  };
  EXPECT_TRUE(says("The camera stopped"));
  EXPECT_TRUE(says("1 round that counts is safe."));
  EXPECT_TRUE(says("press any key to go on"));
  EXPECT_THAT(home_.sound().said.last().toStdString(), HasSubstr("unplugged"));
  ASSERT_THAT(*home_.store().Trials(session), SizeIs(1));

  // Plugged in elsewhere it may be missing once more; that loses nothing either.
  PressKey(window, Qt::Key_Space);
  ASSERT_TRUE(RunUntil([&] { return !home_.live().running(); }));
  ASSERT_TRUE(RunUntil([&] { return says("The camera stopped"); }));
  *unplugged = false;
  PressKey(window, Qt::Key_Space);
  ASSERT_TRUE(RunUntil([&] { return flow().phase == FlowPhase::kRest && flow().trial == 3; }));
  ASSERT_TRUE(RunUntil([&] { return home_.store().Trials(session)->size() == 2; }));
  EXPECT_EQ(home_.context().session, session);
  const auto trials = home_.store().Trials(session);
  EXPECT_EQ(TrialToText(trials->at(0).trial), first);
  const Trial& second = trials->at(1).trial;
  EXPECT_EQ(second.number, 2);
  EXPECT_FALSE(second.set_aside) << TrialToText(second);
  ASSERT_TRUE(second.break_point);
  EXPECT_NEAR(second.break_point->value.value.mm(), TruthOf(2).break_distance.mm(), 5);
  EXPECT_FALSE(says("The camera stopped"));
}

}  // namespace
}  // namespace nearpoint
