// A small window with text at twice its size, in the language of the longer words: every page fits
// it or scrolls, by keys alone.
#include <gmock/gmock.h>

#include <QAbstractButton>
#include <QLabel>
#include <QScrollArea>
#include <QScrollBar>
#include <QTest>

#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/measure_view.h"
#include "app/window/pace_guide.h"
#include "app/window/percept.h"
#include "app/window/words.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"
#include "tests/app/window/stored_session.h"

namespace nearpoint {
namespace {

constexpr QSize kSmall(1024, 600);

void Settle() {
  for (int i = 0; i < 4; ++i) QCoreApplication::processEvents();
}

class SmallWindowTest : public testing::TestWithParam<PageId> {
 protected:
  SmallWindowTest() {
    UseLanguage("de");
    look::SetScale(2);
    home_.emplace();
    Person person;
    person.name = "Maximiliane-Theodora von und zu Hohenlohe";
    const auto added = home_->store().AddPerson(person);
    home_->Open();
    const RowId session = AddSession(home_->store(), added->id,
                                     {ComputedTrial(1, 92, 121), ComputedTrial(2, 95, 124)});
    const auto no_camera = [](const AppContext&, auto...) -> OpenLiveSource {
      return []() -> Result<LiveSource> { return Fail(ErrorCode::kNotFound, "no camera."); };
    };
    home_->context().open_source = no_camera;
    home_->context().open_card_source = no_camera;
    home_->window().resize(kSmall);
    if (GetParam() == PageId::kSafety) {
      home_->window().Show(GetParam());
    } else {
      ShowAnswered(home_->window(), GetParam());
    }
    home_->context().session = session;
    if (GetParam() == PageId::kResult) home_->window().Show(GetParam());
    Settle();
  }
  ~SmallWindowTest() override {
    home_.reset();
    look::SetScale(1);
    UseLanguage("en");
  }
  std::optional<Home> home_;
};

TEST_P(SmallWindowTest, FitsOrScrollsByKeysAlone) {
  MainWindow& window = home_->window();
  EXPECT_EQ(window.size(), kSmall);  // nothing forces it to be larger
  auto* scroll = window.page()->findChild<QScrollArea*>();
  ASSERT_NE(scroll, nullptr);
  EXPECT_LE(scroll->widget()->width(), scroll->viewport()->width());
  // To the end of the text and back.
  window.page()->setFocus();
  QScrollBar* const bar = scroll->verticalScrollBar();
  for (int i = 0; i < 40 && bar->value() < bar->maximum(); ++i) {
    QTest::keyClick(window.page(), Qt::Key_PageDown);
  }
  EXPECT_EQ(bar->value(), bar->maximum());
  for (int i = 0; i < 40 && bar->value() > 0; ++i) {
    QTest::keyClick(window.page(), Qt::Key_PageUp);
  }
  EXPECT_EQ(bar->value(), 0);
  // What Tab leads to is in sight, and is wholly in the window from side to side.
  const QWidget* first = nullptr;
  for (int i = 0; i < 60; ++i) {
    QTest::keyClick(window.focusWidget() != nullptr ? window.focusWidget() : &window, Qt::Key_Tab);
    Settle();
    const QWidget* const focus = window.focusWidget();
    ASSERT_NE(focus, nullptr);
    if (focus == first) break;
    if (first == nullptr) first = focus;
    const QRect place(focus->mapTo(&window, QPoint(0, 0)), focus->size());
    const std::string name =
        focus->objectName().toStdString() + " " + focus->accessibleName().toStdString();
    EXPECT_GE(place.left(), 0) << name;
    EXPECT_LE(place.right(), window.width()) << name;
    EXPECT_FALSE(focus->visibleRegion().isEmpty()) << name;
  }
}

INSTANTIATE_TEST_SUITE_P(Pages, SmallWindowTest,
                         testing::Values(PageId::kWelcome, PageId::kAbout, PageId::kCautions,
                                         PageId::kSafety, PageId::kCamera, PageId::kCard,
                                         PageId::kCardCamera, PageId::kCardPrint, PageId::kCardFace,
                                         PageId::kCardTouch, PageId::kCardTarget,
                                         PageId::kCardScreen, PageId::kLag, PageId::kLearn,
                                         PageId::kHome, PageId::kComfort, PageId::kResult,
                                         PageId::kPast, PageId::kSettings, PageId::kExercise,
                                         PageId::kDiary, PageId::kSend, PageId::kDeletePerson));

// While somebody measures every key is a press, so nothing may have to be scrolled to.
TEST(SmallMeasurementTest, TheLaneIsInSight) {
  UseLanguage("de");
  look::SetScale(2);
  for (const bool practice : {false, true}) {
    Home home;
    MainWindow& window = home.Open(practice);
    window.resize(kSmall);
    ShowAnswered(window, PageId::kMeasure);
    auto* view = window.page()->findChild<MeasureView*>();
    Settle();  // the instructions have been read
    view->ShowRunning();
    view->SetPercept(true);
    view->SetTrials({});
    for (const FlowPhase phase :
         {FlowPhase::kFind, FlowPhase::kMoveBack, FlowPhase::kReady, FlowPhase::kApproach,
          FlowPhase::kAsNear, FlowPhase::kReturn, FlowPhase::kRest}) {
      for (const bool card_comes : {false, true}) {
        FlowState state;
        state.phase = phase;
        if (phase == FlowPhase::kFind) {
          state.lost = LostReason::kNoFace;
        } else {
          state.distance = Length::Millimeters(120);
        }
        if (phase == FlowPhase::kRest) {
          state.set_aside = SetAside::kTrackingLost;  // the longest reason
          state.rest_left = FromMilliseconds(7200);
        }
        state.pace = {Speed::MillimetersPerSecond(15), PaceVerdict::kGood};
        view->SetState(state);
        view->SetPrompt(words::ForPhase(state, card_comes));
        Settle();
        const std::string where = ' ' + words::ForPhase(state, card_comes).headline.toStdString();
        // What matters in this phase: why nothing is seen, how the rest ends, else the lane.
        const QWidget* wanted = view->findChild<PaceGuide*>();
        if (phase == FlowPhase::kRest) {
          for (const QLabel* label : view->findChildren<QLabel*>()) {
            if (label->text().contains("oder irgendeine Taste")) wanted = label;
          }
        }
        if (phase == FlowPhase::kFind) {
          for (const QLabel* label : view->findChildren<QLabel*>()) {
            if (label->text() == words::Lost(*state.lost)) wanted = label;
          }
        }
        EXPECT_EQ(wanted->visibleRegion().boundingRect(), wanted->rect()) << practice << where;
        const auto* sees = view->findChild<PerceptPicture*>();
        ASSERT_EQ(sees != nullptr, practice);
        if (practice) {
          EXPECT_EQ(sees->visibleRegion().boundingRect(), sees->rect()) << where;
        }
      }
    }
  }
  look::SetScale(1);
  UseLanguage("en");
}

}  // namespace
}  // namespace nearpoint
