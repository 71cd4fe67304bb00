#include <gmock/gmock.h>

#include <QFile>

#include "app/event_qr/qr_code.h"
#include "app/event_qr/wristband.h"
#include "app/window/event/event_after_page.h"
#include "app/window/event/event_roster_page.h"
#include "app/window/event/station_page.h"
#include "tests/app/window/event_fixture.h"

namespace nearpoint {
namespace {

using testing::SizeIs;

class EventPagesTest : public testing::Test {
 protected:
  void SetUp() override {
    window_ = &home_.Open();
    home_.context().open_source = FastChild;
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

// One child from the queue to the next: three letters, Return, and Return. The child's own presses
// are the child's.
TEST_F(EventPagesTest, AChildTakesFiveKeysOfTheVolunteer) {
  GoTo(PageId::kStation);
  Typist typist(*window_);
  typist.Type("mul");
  typist.Press(Qt::Key_Return);
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
  EXPECT_LE(typist.Take(), 5);
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

TEST_F(EventPagesTest, EscapeInTheMiddlePausesTheChild) {
  GoTo(PageId::kStation);
  Typist typist(*window_);
  typist.Type("13");
  typist.Press(Qt::Key_Return);
  ASSERT_TRUE(Reach(PageId::kStationChild));
  typist.Press(Qt::Key_Escape);
  ASSERT_TRUE(Reach(PageId::kStation));
  EXPECT_EQ(ChildOf(*event_, "13").stage, ChildStage::kPaused);
  EXPECT_THAT(ChildOf(*event_, "13").measurements, SizeIs(0));
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
  EXPECT_TRUE(Reach(PageId::kStationChild));
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

TEST_F(EventPagesTest, AfterTheEventLettersAreWrittenAndEverythingIsDeleted) {
  Measured("12", 0.9);
  Measured("13", 0.1);
  GoTo(PageId::kEventAfter);
  auto* page = dynamic_cast<EventAfterPage*>(window_->page());
  auto* who = page->findChild<QListWidget*>("who");
  ASSERT_EQ(who->count(), 1);
  EXPECT_TRUE(who->item(0)->text().contains("Zoë"));
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
