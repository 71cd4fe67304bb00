#include <gmock/gmock.h>

#include <QComboBox>
#include <QFile>
#include <nlohmann/json.hpp>
#include <set>

#include "app/event_qr/qr_code.h"
#include "app/event_qr/wristband.h"
#include "app/records/trial_json.h"
#include "app/window/event/event_after_page.h"
#include "app/window/event/event_keeper.h"
#include "app/window/event/event_roster_page.h"
#include "app/window/event/event_words.h"
#include "app/window/event/station_page.h"
#include "app/window/keep_calibration.h"
#include "app/window/language.h"
#include "app/window/pages/measure_page.h"
#include "calibration/print_scale.h"
#include "tests/app/window/card_show.h"
#include "tests/app/window/event_fixture.h"
#include "tests/app/window/stored_session.h"
#include "tests/support/roster_faults.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::SizeIs;

class EventPagesTest : public testing::Test {
 protected:
  void SetUp() override {
    window_ = &home_.Open();
    home_.context().open_source = QuickChild;
    event_ = &MakeEvent(home_);
  }
  void GoTo(PageId page) {
    window_->Show(page);
    QCoreApplication::processEvents();
  }
  [[nodiscard]] bool Reach(PageId page) {
    return RunUntil([&] { return window_->shown() == page; });
  }
  [[nodiscard]] QString Said() {
    auto* label = window_->page()->findChild<QLabel*>("said");
    return label->isVisible() ? label->text() : QString();
  }
  // Without a camera: as if the child had been measured.
  Uuid Measured(const std::string& number, double probability) {
    const Uuid child = ChildOf(*event_, number).uuid;
    ChildMeasured what;
    what.trials_made = what.trials_used = 3;
    what.break_mm = probability > 0.5 ? 120 : 50;
    what.low_mm = *what.break_mm - 10;
    what.high_mm = *what.break_mm + 10;
    what.probability_beyond = probability;
    what.cut_off_mm = 73.5;
    EXPECT_TRUE(event_->desk()->Start(child));
    return event_->desk()->Keep(child, what, "").value();
  }

  Home home_;
  MainWindow* window_ = nullptr;
  EventContext* event_ = nullptr;
};

// One child from the queue to the next: three letters, Return, the answer of today, and Return. The
// child's own presses are the child's.
TEST_F(EventPagesTest, AChildTakesSixKeysOfTheVolunteer) {
  GoTo(PageId::kStation);
  Typist typist(*window_);
  typist.Type("mul");
  typist.Press(Qt::Key_Return);
  typist.Press(Qt::Key_N);
  ASSERT_TRUE(Reach(PageId::kStationChild));
  EXPECT_EQ(ChildOf(*event_, "12").stage, ChildStage::kMeasuring);
  ASSERT_TRUE(Reach(PageId::kStationDone));
  // Nothing on this page depends on the result.
  for (const QLabel* label : window_->page()->findChildren<QLabel*>()) {
    EXPECT_FALSE(label->text().contains("cm")) << label->text().toStdString();
    EXPECT_FALSE(label->text().contains("limit")) << label->text().toStdString();
  }
  typist.Press(Qt::Key_Return);
  ASSERT_TRUE(Reach(PageId::kStation));
  EXPECT_LE(typist.Take(), 6);
  const ChildState& child = ChildOf(*event_, "12");
  EXPECT_EQ(child.stage, ChildStage::kDone);
  ASSERT_THAT(child.measurements, SizeIs(1));
  const ChildMeasured& what = child.measurements[0].what;
  EXPECT_GE(what.trials_used, 2);
  ASSERT_TRUE(what.break_mm);
  EXPECT_NEAR(*what.break_mm, 92, 15);  // the patient's truth
  EXPECT_EQ(child.finding, Finding::kSeeProfessional);
  EXPECT_FALSE(event_->store().SessionText(child.measurements[0].uuid)->empty());
}

// What was old or never measured at the station stands in the child's session, as at home.
TEST_F(EventPagesTest, ASessionSaysWhatItsProfileLacks) {
  const auto cautions = [&](const std::string& number, const LiveFacts& facts) {
    event_->child = ChildOf(*event_, number).uuid;
    EXPECT_TRUE(event_->desk()->Start(event_->child));
    event_->since.start();
    EventKeeper keeper(home_.context(), *event_);
    DistanceSample nothing;
    keeper.AddFrame(nothing);
    const MeasureFlow flow(FlowRules(), keeper.options(), keeper.plan(),
                           {ComputedTrial(1, 92, 121).trial, ComputedTrial(2, 95, 124).trial});
    EXPECT_TRUE(keeper.Finish(flow, facts));
    const auto& made = ChildOf(*event_, number).measurements;
    return nlohmann::json::parse(event_->store().SessionText(made.back().uuid).value())["cautions"]
        .dump();
  };
  LiveFacts facts;
  facts.profile = DefaultProfile();
  facts.missing = 3;
  Origin old;
  old.date = ParseDay("2023-06-01").value();
  facts.profile.made.camera = old;
  const std::string said = cautions("12", facts);
  EXPECT_THAT(said, HasSubstr("The camera was measured"));
  EXPECT_THAT(said, HasSubstr("2023-06-01"));
  EXPECT_THAT(said, HasSubstr("population values were used"));
  EXPECT_THAT(said, HasSubstr("3 of 4 frames are missing"));
  EXPECT_THAT(said, HasSubstr("No distance is known in 1 of 1 frames"));
  // Not of a camera that was measured last month.
  facts.profile.made.camera->date = ParseDay("2026-02-14").value();
  EXPECT_THAT(cautions("13", facts), Not(HasSubstr("The camera was measured")));
}

// A child that is interrupted loses nothing that was finished: Return twice, and it goes on.
TEST_F(EventPagesTest, EscapeInTheMiddlePausesTheChildAndItsRoundsAreSafe) {
  GoTo(PageId::kStation);
  Typist typist(*window_);
  typist.Type("13");
  typist.Press(Qt::Key_Return);
  typist.Press(Qt::Key_N);
  ASSERT_TRUE(Reach(PageId::kStationChild));
  ASSERT_TRUE(RunUntil([&] { return !ChildOf(*event_, "13").open_trials.empty(); }));
  typist.Press(Qt::Key_Escape);
  ASSERT_TRUE(Reach(PageId::kStation));
  EXPECT_EQ(ChildOf(*event_, "13").stage, ChildStage::kPaused);
  EXPECT_THAT(ChildOf(*event_, "13").measurements, SizeIs(0));
  const std::string first = ChildOf(*event_, "13").open_trials.front().trial;

  typist.Type("13");
  typist.Press(Qt::Key_Return);
  auto* go_on = window_->page()->findChild<QPushButton*>("go_on");
  ASSERT_TRUE(go_on->isVisible());
  EXPECT_TRUE(go_on->hasFocus());
  typist.Press(Qt::Key_Return);
  typist.Press(Qt::Key_N);
  ASSERT_TRUE(Reach(PageId::kStationChild));
  auto* measure = dynamic_cast<MeasurePage*>(window_->page());
  ASSERT_THAT(measure->flow().trials(), SizeIs(1));
  EXPECT_EQ(TrialToText(measure->flow().trials().front()), first);
  ASSERT_TRUE(Reach(PageId::kStationDone));
  const ChildState& child = ChildOf(*event_, "13");
  ASSERT_THAT(child.measurements, SizeIs(1));
  EXPECT_TRUE(child.open_trials.empty());
  // Its own trial is in the session, with what the eyes said of it.
  const std::string session = event_->store().SessionText(child.measurements[0].uuid).value();
  const auto json = nlohmann::json::parse(session);
  ASSERT_EQ(json["trials"].size(),
            static_cast<std::size_t>(child.measurements[0].what.trials_made));
  EXPECT_EQ(json["trials"][0]["number"], 1);
  EXPECT_TRUE(json["trials"][0].contains("drift_probability"));
}

// The machine went off while a child was measured.
TEST_F(EventPagesTest, WhoWasInterruptedComesFirstAndMayBeginAfresh) {
  const Uuid child = ChildOf(*event_, "14").uuid;
  ASSERT_TRUE(event_->desk()->Start(child));
  ASSERT_TRUE(event_->desk()->KeepTrial(child, {"no trial at all", "", false}));
  GoTo(PageId::kStation);
  EXPECT_TRUE(Said().contains("Jean-Luc"));
  auto* list = window_->page()->findChild<QListWidget*>("children");
  EXPECT_TRUE(list->item(0)->text().contains("Jean-Luc"));
  EXPECT_TRUE(list->item(0)->text().contains("1 round is safe here"));
  Typist typist(*window_);
  typist.Press(Qt::Key_Return);
  ASSERT_TRUE(window_->page()->findChild<QPushButton*>("go_on")->isVisible());
  window_->page()->findChild<QPushButton*>("afresh")->click();
  typist.Press(Qt::Key_N);
  ASSERT_TRUE(Reach(PageId::kStationChild));
  EXPECT_TRUE(ChildOf(*event_, "14").open_trials.empty());
}

// A child is never measured with what is known of somebody at home.
TEST_F(EventPagesTest, TheFaceAndHandOfThePersonAtHomeAreNotTheChilds) {
  Profile& home = home_.context().profile;
  const auto of_the_person = [](double mm) {
    return UncertainLength{Length::Millimeters(mm), Length::Millimeters(0.1)};
  };
  home.face.iris = of_the_person(12.3);
  home.face.distance_pd = of_the_person(66);
  home.lag = FromMilliseconds(900);
  home.camera.fx = home.camera.fy = 1111;
  home.made.face = Origin();
  home.made.lag = Origin();
  const Profile child = event_->MeasuredWith(home_.context());
  EXPECT_FALSE(child.face.iris);
  EXPECT_FALSE(child.face.distance_pd);
  EXPECT_FALSE(child.made.face);
  EXPECT_NE(child.lag, home.lag);
  EXPECT_EQ(child.camera.fx, 1111);  // the camera is the computer's
}

TEST_F(EventPagesTest, TheCardIsOfferedWhereTheBandLiesOnBothSides) {
  const auto offered = [&](const std::string& number, double low, double high) {
    const Uuid child = ChildOf(*event_, number).uuid;
    ChildMeasured what;
    what.trials_made = what.trials_used = 3;
    what.break_mm = (low + high) / 2;
    what.low_mm = low;
    what.high_mm = high;
    what.probability_beyond = 0.5;
    what.cut_off_mm = 73.5;
    EXPECT_TRUE(event_->desk()->Start(child));
    EXPECT_TRUE(event_->desk()->Keep(child, what, ""));
    event_->child = child;
    event_->kept = true;
    GoTo(PageId::kStationDone);
    return window_->page()->findChild<QPushButton*>("card");
  };
  EXPECT_EQ(offered("12", 50, 70), nullptr);
  EXPECT_EQ(offered("13", 80, 100), nullptr);
  QPushButton* const card = offered("14", 60, 90);
  ASSERT_NE(card, nullptr);
  card->click();
  ASSERT_TRUE(Reach(PageId::kCard));
  const auto button = [&](const char* name) {
    return window_->page()->findChild<QPushButton*>(name);
  };
  EXPECT_FALSE(button("face")->isEnabled());  // the camera first
  EXPECT_FALSE(button("measure_again")->isEnabled());
  // The camera, as its page leaves it, stays with the station.
  const auto patient = CardOnForehead();
  Profile& profile = event_->card->context().profile;
  profile.camera = simulate::TrueProfile(patient).camera;
  profile.made.camera = MeasuredNow(event_->card->context(), "card");
  event_->card->context().calibrated = true;
  profile.print = PrintScale{0.998, 0.998, 0.003};
  profile.made.print = MeasuredNow(event_->card->context(), "ruler");
  GoTo(PageId::kCard);
  EXPECT_EQ(StationProfile(home_.context(), event_->store()).camera.fx, profile.camera.fx);
  EXPECT_EQ(PrintOf(StationProfile(home_.context(), event_->store())).sd, 0.003);
  // The face, by its own page, is this child's alone.
  home_.context().open_card_source = [](const AppContext&, CardTask) {
    return ShowCardOnForehead();
  };
  event_->card->context().open_card_source = home_.context().open_card_source;
  button("face")->click();
  ASSERT_TRUE(Reach(PageId::kCardFace));
  ASSERT_TRUE(RunUntil([&] { return event_->card->face_known(); }));
  GoTo(PageId::kCard);
  ASSERT_TRUE(button("measure_again")->isEnabled());
  button("measure_again")->click();
  ASSERT_TRUE(Reach(PageId::kStationChild));
  EXPECT_NEAR(event_->MeasuredWith(home_.context()).face.iris->value.mm() / 11.7, 1, 0.015);
  EXPECT_FALSE(home_.context().profile.made.face);
  EXPECT_EQ(ChildOf(*event_, "14").stage, ChildStage::kMeasuring);
  Typist(*window_).Press(Qt::Key_Escape);
  ASSERT_TRUE(Reach(PageId::kStation));
  event_->child = ChildOf(*event_, "15").uuid;
  EXPECT_FALSE(event_->MeasuredWith(home_.context()).face.iris);
  GoTo(PageId::kCard);  // from here on it is the page of the home program
  EXPECT_EQ(button("measure_again"), nullptr);
}

// Every mistake that a list can have is said in the window's language.
TEST_F(EventPagesTest, FaultsAreSaidInGerman) {
  std::string text = kPlantedHeader;
  text += "S0,First,Sound,2c,8,,yes\nS1,Nothing,Else,,,,no\n";
  for (const Planted& fault : AllPlanted()) text += fault.row + '\n';
  RosterRules rules;
  rules.year = 2026, rules.month = 3, rules.day = 14;
  const Roster roster = ReadRoster(text, "list.csv", rules).value();
  std::set<FaultKind> kinds;
  UseLanguage("de");
  for (const RosterFault& fault : roster.faults) {
    kinds.insert(fault.kind);
    const QString said = words::ForSentence(fault.sentence);
    EXPECT_NE(said.toStdString(), fault.sentence);
    EXPECT_FALSE(said.contains("expected")) << said.toStdString();
    EXPECT_FALSE(said.contains(" a ")) << said.toStdString();
  }
  EXPECT_GE(kinds.size(), 38u);
  const auto undone = event_->desk()->UndoLast();
  EXPECT_TRUE(words::ForError(undone.error()).startsWith("Dieser Platz"));
  const auto nobody = event_->desk()->HandOver("");
  EXPECT_TRUE(words::ForError(nobody.error()).startsWith("Wer macht"));
  const auto server = EventDatabase::OpenServer({"postgresql://nearpoint@127.0.0.1:9/x", {}, {}});
  EXPECT_TRUE(words::ForError(server.error()).contains("nicht zu erreichen"));
  EXPECT_EQ(words::ForSentence("A sentence of nobody's.").toStdString(), "A sentence of nobody's.");
  UseLanguage("en");
}

TEST_F(EventPagesTest, ConsentComesBeforeMeasuring) {
  GoTo(PageId::kStation);
  Typist typist(*window_);
  typist.Type("ben");
  typist.Press(Qt::Key_Return);
  EXPECT_EQ(window_->shown(), PageId::kStation);
  EXPECT_EQ(ChildOf(*event_, "15").stage, ChildStage::kWaiting);
  auto* form = window_->page()->findChild<QPushButton*>("consent_form");
  ASSERT_TRUE(form->isVisible());
  EXPECT_TRUE(form->hasFocus());
  window_->page()->findChild<QPushButton*>("consent_refused")->click();
  EXPECT_EQ(ChildOf(*event_, "15").consent->given, false);
  typist.Type("ben");
  typist.Press(Qt::Key_Return);
  typist.Press(Qt::Key_Return);  // insisting does not help
  QCoreApplication::processEvents();
  EXPECT_EQ(window_->shown(), PageId::kStation);
}

TEST_F(EventPagesTest, WhoHasBeenHereIsMeasuredAgainOnlyKnowingly) {
  Measured("12", 0.9);
  GoTo(PageId::kStation);
  Typist typist(*window_);
  typist.Type("zoe");
  typist.Press(Qt::Key_Return);
  EXPECT_TRUE(Said().contains("has been here"));
  EXPECT_EQ(window_->shown(), PageId::kStation);
  typist.Press(Qt::Key_Return);
  typist.Press(Qt::Key_N);
  EXPECT_TRUE(Reach(PageId::kStationChild));
}

TEST_F(EventPagesTest, BeforeAChildIsMeasuredTheVolunteerAsksAboutToday) {
  GoTo(PageId::kStation);
  Typist typist(*window_);
  typist.Type("13");
  typist.Press(Qt::Key_Return);
  auto* today = window_->page()->findChild<QFrame*>("today");
  ASSERT_TRUE(today->isVisible());
  for (const char* name : {"today_no", "today_yes"}) {
    EXPECT_FALSE(window_->page()->findChild<QPushButton*>(name)->hasFocus());
  }
  typist.Press(Qt::Key_Return);  // answers nothing
  QCoreApplication::processEvents();
  EXPECT_EQ(window_->shown(), PageId::kStation);
  ASSERT_TRUE(today->isVisible());
  EXPECT_EQ(ChildOf(*event_, "13").stage, ChildStage::kWaiting);
  typist.Press(Qt::Key_Y);
  EXPECT_TRUE(Said().contains("Call the person in charge"));
  const ChildState& child = ChildOf(*event_, "13");
  EXPECT_EQ(child.finding, Finding::kNeedsLookingAfter);
  EXPECT_EQ(child.stage, ChildStage::kLeft);
  // And no insisting measures it.
  typist.Type("13");
  typist.Press(Qt::Key_Return);
  typist.Press(Qt::Key_Return);
  QCoreApplication::processEvents();
  EXPECT_FALSE(today->isVisible());
  EXPECT_EQ(window_->shown(), PageId::kStation);
  EXPECT_TRUE(Said().contains("person in charge"));
}

TEST_F(EventPagesTest, WhoDoesNotWantToIsKeptAsDeclined) {
  GoTo(PageId::kStation);
  Typist(*window_).Type("13");
  window_->page()->findChild<QPushButton*>("declined")->click();
  EXPECT_EQ(ChildOf(*event_, "13").stopped, StopReason::kDeclined);
}

// The button after a measurement that was counted as within the limit.
TEST_F(EventPagesTest, NeedsLookingAfterStandsAboveAMeasurement) {
  Measured("12", 0.05);
  Measured("13", 0.95);
  event_->child = ChildOf(*event_, "12").uuid;
  event_->kept = true;
  GoTo(PageId::kStationDone);
  window_->page()->findChild<QPushButton*>("caution")->click();
  ASSERT_TRUE(Reach(PageId::kStation));
  GoTo(PageId::kEventAfter);
  auto* who = window_->page()->findChild<QListWidget*>("who");
  ASSERT_EQ(who->count(), 2);
  EXPECT_TRUE(who->item(0)->text().startsWith("needs looking after"));
  EXPECT_TRUE(who->item(0)->text().contains("Zoë"));
  window_->page()->findChild<QPushButton*>("take_back")->click();
  QCoreApplication::processEvents();
  EXPECT_EQ(ChildOf(*event_, "12").finding, Finding::kWithin);
}

// A disk that takes nothing just now: the press is said to be unwritten, kept, and written later.
TEST_F(EventPagesTest, TakingBackAndSwappingAreKeptUntilTheDiskTakesThem) {
  Measured("12", 0.05);
  GoTo(PageId::kStation);
  const auto disk = [&](bool full) {
    ASSERT_TRUE(event_->store().database().Run(full ? "PRAGMA query_only = ON"
                                                    : "PRAGMA query_only = OFF"));
  };
  disk(true);
  Typist typist(*window_);
  typist.Type("12");
  typist.Press(Qt::Key_W, Qt::ControlModifier);
  typist.Type("13");
  typist.Press(Qt::Key_Return);
  EXPECT_EQ(event_->unwritten(), 1);
  typist.Press(Qt::Key_Z, Qt::ControlModifier);
  EXPECT_EQ(event_->unwritten(), 2);
  EXPECT_EQ(ChildOf(*event_, "12").stage, ChildStage::kDone);
  disk(false);
  ASSERT_TRUE(RunUntil([&] { return event_->unwritten() == 0; }));
  // First the two change places, then the last measurement, now the other child's, is taken back.
  EXPECT_EQ(ChildOf(*event_, "12").stage, ChildStage::kWaiting);
  EXPECT_EQ(ChildOf(*event_, "13").stage, ChildStage::kWaiting);
}

TEST_F(EventPagesTest, WhatCannotBeWrittenIsSaidKeptAndTriedAgain) {
  Measured("12", 0.05);
  const Uuid child = ChildOf(*event_, "12").uuid;
  event_->child = child;
  event_->kept = true;
  GoTo(PageId::kStationDone);
  const auto disk = [&](bool full) {
    ASSERT_TRUE(event_->store().database().Run(full ? "PRAGMA query_only = ON"
                                                    : "PRAGMA query_only = OFF"));
  };
  disk(true);
  window_->page()->findChild<QPushButton*>("caution")->click();
  ASSERT_TRUE(Reach(PageId::kStation));
  auto* unwritten = window_->page()->findChild<QLabel*>("unwritten");
  ASSERT_TRUE(unwritten->isVisible());
  EXPECT_TRUE(unwritten->text().contains("1 entry"));
  EXPECT_EQ(ChildOf(*event_, "12").finding, Finding::kWithin);
  // Until it is on disk nobody is measured here: it may be this very child.
  Typist(*window_).Type("13");
  Typist(*window_).Press(Qt::Key_Return);
  EXPECT_FALSE(window_->page()->findChild<QFrame*>("today")->isVisible());
  EXPECT_EQ(ChildOf(*event_, "13").stage, ChildStage::kWaiting);
  // A stop and a measurement queue up behind it, in their order.
  event_->child = ChildOf(*event_, "13").uuid;
  event_->since.start();
  { EventKeeper keeper(home_.context(), *event_); }
  EXPECT_EQ(event_->unwritten(), 2);
  {
    EventKeeper keeper(home_.context(), *event_);
    const MeasureFlow flow(FlowRules(), keeper.options(), keeper.plan(),
                           {ComputedTrial(1, 92, 121).trial, ComputedTrial(2, 95, 124).trial});
    LiveFacts facts;
    facts.profile = DefaultProfile();
    EXPECT_FALSE(keeper.Finish(flow, facts));
    EXPECT_TRUE(keeper.Finish(flow, facts));  // once
  }
  EXPECT_EQ(event_->unwritten(), 3);
  // Practice would throw them away.
  home_.context().practice = true;
  EXPECT_FALSE(EventContext::Of(home_.context()));
  home_.context().practice = false;
  disk(false);
  ASSERT_TRUE(RunUntil([&] { return event_->unwritten() == 0; }));
  EXPECT_FALSE(unwritten->isVisible());
  EXPECT_EQ(ChildOf(*event_, "12").finding, Finding::kNeedsLookingAfter);
  EXPECT_EQ(ChildOf(*event_, "13").stage, ChildStage::kDone);
  EXPECT_THAT(ChildOf(*event_, "13").measurements, SizeIs(1));
}

TEST_F(EventPagesTest, UndoSwapAndWalkUp) {
  const Uuid first = Measured("12", 0.9);
  GoTo(PageId::kStation);
  Typist typist(*window_);
  typist.Type("anna");
  typist.Press(Qt::Key_W, Qt::ControlModifier);
  typist.Type("zo");
  typist.Press(Qt::Key_Return);
  EXPECT_EQ(ChildOf(*event_, "13").measurements.front().uuid, first);
  EXPECT_EQ(ChildOf(*event_, "12").stage, ChildStage::kWaiting);

  typist.Press(Qt::Key_Z, Qt::ControlModifier);
  EXPECT_TRUE(ChildOf(*event_, "13").measurements.front().undone);
  EXPECT_TRUE(Said().contains("Anna"));

  typist.Type("77");
  typist.Press(Qt::Key_Return);
  EXPECT_TRUE(ChildOf(*event_, "77").child.walk_up);
  EXPECT_TRUE(window_->page()->findChild<QPushButton*>("consent_present")->isVisible());
}

// The thanks are the same for within and beyond; only where nothing can be told a second go is
// offered.
TEST_F(EventPagesTest, OnceMoreIsOfferedWhereNothingCanBeTold) {
  const auto offered = [&](const std::string& number, double probability) {
    Measured(number, probability);
    event_->child = ChildOf(*event_, number).uuid;
    event_->kept = true;
    GoTo(PageId::kStationDone);
    return window_->page()->findChild<QPushButton*>("again") != nullptr;
  };
  EXPECT_FALSE(offered("12", 0.95));
  EXPECT_FALSE(offered("13", 0.05));
  ASSERT_TRUE(offered("14", 0.6));
  window_->page()->findChild<QPushButton*>("again")->click();
  ASSERT_TRUE(Reach(PageId::kStationChild));
  EXPECT_EQ(ChildOf(*event_, "14").stage, ChildStage::kMeasuring);
}

// A wristband held before the camera, as the preview mirrors it.
TEST_F(EventPagesTest, AWristbandFindsItsChild) {
  GoTo(PageId::kStation);
  auto* page = dynamic_cast<StationPage*>(window_->page());
  ASSERT_NE(page, nullptr);
  const auto show = [&](const std::string& text) {
    const cv::Mat code = DrawQrCode(text);
    QImage picture(640, 360, QImage::Format_RGB888);
    picture.fill(QColor(150, 150, 150));
    constexpr int kModule = 5;
    for (int y = 0; y < code.rows * kModule; ++y) {
      for (int x = 0; x < code.cols * kModule; ++x) {
        const int grey = code.at<uchar>(y / kModule, x / kModule);
        picture.setPixelColor(200 + x, 60 + y, QColor(grey, grey, grey));
      }
    }
    page->Look(picture.mirrored(true, false));
  };
  show(WristbandText("00000000-other", "14"));
  EXPECT_TRUE(Said().contains("another event"));
  EXPECT_EQ(window_->shown(), PageId::kStation);
  show(WristbandText(event_->desk()->state().uuid, "14"));
  window_->page()->findChild<QPushButton*>("today_no")->click();
  ASSERT_TRUE(Reach(PageId::kStationChild));
  EXPECT_EQ(ChildOf(*event_, "14").stage, ChildStage::kMeasuring);
}

TEST_F(EventPagesTest, ARosterWithMistakesIsNotTakenOver) {
  const QString file = QString::fromStdString(home_.folder() / "roster.csv");
  const auto write = [&](const char* text) {
    QFile out(file);
    ASSERT_TRUE(out.open(QIODevice::WriteOnly));
    out.write(text);
  };
  GoTo(PageId::kEventRoster);
  auto* page = dynamic_cast<EventRosterPage*>(window_->page());
  write("no,pupil,age\n21,Eva,8\n21,Ole,80\n");
  page->Read(file);
  EXPECT_EQ(page->findChild<QListWidget*>("faults")->count(), 2);
  for (QPushButton* button : page->findChildren<QPushButton*>()) {
    if (button->property("role") == "next") {
      EXPECT_FALSE(button->isEnabled());
    }
  }
  write("no,pupil,age\n21,Eva,8\n22,Ole,8\n");
  page->Read(file);
  Typist typist(*window_);
  page->setFocus();
  typist.Press(Qt::Key_Return);
  ASSERT_TRUE(Reach(PageId::kEvent));
  EXPECT_EQ(ChildOf(*event_, "22").child.name, "Ole");
}

TEST_F(EventPagesTest, AColumnThatIsNotUnderstoodHoldsTheListBack) {
  const QString file = QString::fromStdString(home_.folder() / "roster.csv");
  QFile out(file);
  ASSERT_TRUE(out.open(QIODevice::WriteOnly));
  out.write("no,pupil,answer,phone\n21,Eva,no,12\n22,Ole,yes,13\n");
  out.close();
  GoTo(PageId::kEventRoster);
  auto* page = dynamic_cast<EventRosterPage*>(window_->page());
  page->Read(file);
  const auto next = [&] {
    for (QPushButton* button : page->findChildren<QPushButton*>()) {
      if (button->property("role") == "next") return button;
    }
    return static_cast<QPushButton*>(nullptr);
  };
  EXPECT_FALSE(next()->isEnabled());
  const auto answer = [&](const char* box, int index) {
    auto* what = page->findChild<QComboBox*>(box);
    ASSERT_NE(what, nullptr);
    what->setCurrentIndex(index);
    emit what->activated(index);
    QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
  };
  answer("unknown_3", 1);  // not needed
  EXPECT_FALSE(next()->isEnabled());
  answer("unknown_2", 8);  // consent
  ASSERT_TRUE(next()->isEnabled());
  next()->click();
  ASSERT_TRUE(Reach(PageId::kEvent));
  EXPECT_EQ(ChildOf(*event_, "21").consent->given, false);
  EXPECT_EQ(ChildOf(*event_, "22").consent->given, true);
}

TEST_F(EventPagesTest, AfterTheEventLettersAreWrittenAndEverythingIsDeleted) {
  Measured("12", 0.9);
  Measured("13", 0.1);
  GoTo(PageId::kEventAfter);
  auto* page = dynamic_cast<EventAfterPage*>(window_->page());
  auto* who = page->findChild<QListWidget*>("who");
  ASSERT_EQ(who->count(), 1);
  EXPECT_TRUE(who->item(0)->text().contains("Zoë"));
  EXPECT_TRUE(page->findChild<QLabel*>("other_plane")
                  ->text()
                  .contains(QString("reads 1.4%1cm more").arg(QChar(0xa0))));
  const QString file = QString::fromStdString(home_.folder() / "letters.pdf");
  page->WriteLetters(file);
  EXPECT_TRUE(QFile::exists(file));
  auto* remove = page->findChild<QPushButton*>("delete");
  EXPECT_FALSE(remove->isEnabled());
  page->findChild<QLineEdit*>("confirm")->setText("hall");
  EXPECT_FALSE(remove->isEnabled());
  page->findChild<QLineEdit*>("confirm")->setText("Hall");
  remove->click();
  ASSERT_TRUE(Reach(PageId::kEvent));
  EXPECT_EQ(event_->desk(), nullptr);
}

// What a volunteer practises leaves nothing in the event.
TEST_F(EventPagesTest, PracticeIsAnEventOfItsOwn) {
  home_.context().practice = true;
  GoTo(PageId::kStation);
  EventContext& practice = *home_.context().event;
  EXPECT_TRUE(practice.practice());
  EXPECT_THAT(practice.desk()->state().children, SizeIs(6));
  home_.context().practice = false;
  GoTo(PageId::kEvent);
  EXPECT_EQ(home_.context().event->desk()->state().event.name, "Hall");
  EXPECT_THAT(home_.context().event->desk()->state().children, SizeIs(4));
}

}  // namespace
}  // namespace nearpoint
