// Every page, walked as somebody does who hears the window: what Tab or a click can reach has a
// name, and what can be skipped says what that costs.
#include <gmock/gmock.h>

#include <QAbstractItemView>
#include <QAbstractSpinBox>
#include <QAccessible>
#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>

#include "app/window/clinic/clinic.h"
#include "app/window/language.h"
#include "app/window/pages/all_pages.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/clinic_home.h"
#include "tests/app/window/event_fixture.h"
#include "tests/app/window/stored_session.h"

namespace nearpoint {
namespace {

// The name that a screen reader is given: that of the widget, its text, or its label.
QString HeardName(QWidget* widget) {
  auto* const heard = QAccessible::queryAccessibleInterface(widget);
  return heard == nullptr ? QString() : heard->text(QAccessible::Name);
}

// Parts of a widget that has the name: the field inside a spin box, the list of a combo box, which
// gets its name when it opens.
bool IsInside(const QWidget* widget) {
  for (const QWidget* parent = widget->parentWidget(); parent != nullptr;
       parent = parent->parentWidget()) {
    if (qobject_cast<const QComboBox*>(parent)) return true;
  }
  return widget->objectName().startsWith("qt_") ||
         qobject_cast<const QAbstractSpinBox*>(widget->parentWidget());
}

std::string Describe(const QWidget* widget) {
  return std::string(widget->metaObject()->className()) + " \"" +
         widget->objectName().toStdString() + '"';
}

class ScreenReaderTest : public testing::Test {
 protected:
  ScreenReaderTest() {
    const auto no_camera = [](const AppContext&, auto...) -> OpenLiveSource {
      return []() -> Result<LiveSource> { return Fail(ErrorCode::kNotFound, "no camera."); };
    };
    Person person;
    person.name = "Mira";
    person.birth_year = 2014;
    person_ = home_.store().AddPerson(person).value().id;
    home_.Open();
    home_.context().open_source = no_camera;
    home_.context().open_card_source = no_camera;
  }
  ~ScreenReaderTest() override { UseLanguage("en"); }

  void Look(PageId page, const std::string& where) {
    MainWindow& window = home_.window();
    if (page == PageId::kMeasure || page == PageId::kExercise) {
      ShowAnswered(window, page);
    } else {
      window.Show(page);
    }
    for (int i = 0; i < 4; ++i) QCoreApplication::processEvents();
    Listen(where);
  }

  // Hidden widgets too: they show in another state of the page.
  void Listen(const std::string& where) {
    const MainWindow& window = home_.window();
    EXPECT_FALSE(window.page()->accessibleName().isEmpty()) << where;
    for (auto* widget : window.findChildren<QWidget*>()) {
      if (widget->focusPolicy() == Qt::NoFocus && qobject_cast<QPushButton*>(widget) == nullptr) {
        continue;
      }
      if (IsInside(widget)) continue;
      ++seen_;
      EXPECT_FALSE(HeardName(widget).trimmed().isEmpty()) << where << ": " << Describe(widget);
    }
  }

  // What "Skip" costs is said on the page.
  void ExpectTheCostOfSkipping(const std::string& where) {
    const QWidget& page = *home_.window().page();
    bool can_skip = false;
    for (const QPushButton* button : page.findChildren<QPushButton*>()) {
      can_skip = can_skip || button->text() == "Skip";
    }
    if (!can_skip) return;
    ++skippable_;
    bool said = false;
    for (const QLabel* label : page.findChildren<QLabel*>()) {
      said = said || (!label->isHidden() && label->text().contains("kipped"));
    }
    EXPECT_TRUE(said) << where;
  }

  Home home_;
  RowId person_ = 0;
  int seen_ = 0;
  int skippable_ = 0;
};

constexpr PageId kAtHome[] = {
    PageId::kWelcome,   PageId::kAbout,      PageId::kCautions,     PageId::kCamera,
    PageId::kCard,      PageId::kCardCamera, PageId::kCardPrint,    PageId::kCardFace,
    PageId::kCardTouch, PageId::kCardTarget, PageId::kCardScreen,   PageId::kLag,
    PageId::kLearn,     PageId::kHome,       PageId::kMeasure,      PageId::kComfort,
    PageId::kResult,    PageId::kPast,       PageId::kDeletePerson, PageId::kExercise,
    PageId::kDiary,     PageId::kSettings,   PageId::kSend,         PageId::kPlanFile,
    PageId::kSafety};

TEST_F(ScreenReaderTest, EveryPageAtHomeHasNames) {
  AddSession(home_.store(), person_, {ComputedTrial(1, 92, 121), ComputedTrial(2, 95, 124)});
  for (const char* language : {"en", "de"}) {
    UseLanguage(language);
    for (const bool practice : {false, true}) {
      home_.context().practice = practice;
      for (const PageId page : kAtHome) {
        Look(page, std::string(language) + (practice ? ", practice" : "") + ", page " +
                       std::to_string(static_cast<int>(page)));
      }
    }
  }
  EXPECT_GT(seen_, 400);
}

TEST_F(ScreenReaderTest, WhatCanBeSkippedSaysWhatThatCosts) {
  for (const PageId page : kAtHome) {
    Look(page, "");
    ExpectTheCostOfSkipping("page " + std::to_string(static_cast<int>(page)));
  }
  EXPECT_GE(skippable_, 7);
}

TEST_F(ScreenReaderTest, TheDetailsOfAResultHaveNames) {
  const RowId session = AddSession(home_.store(), person_, {ComputedTrial(1, 92, 121)});
  home_.context().session = session;
  Look(PageId::kResult, "result");
  home_.window().page()->findChild<QPushButton*>("details")->click();
  Listen("details of the result");
}

TEST_F(ScreenReaderTest, AListThatOpensHasTheNameOfItsBox) {
  Look(PageId::kSettings, "settings");
  auto* const box = home_.window().page()->findChild<QComboBox*>("language");
  ASSERT_NE(box, nullptr);
  box->showPopup();
  EXPECT_EQ(HeardName(box->view()), "Language");
  box->hidePopup();
}

TEST_F(ScreenReaderTest, EveryPageOfASchoolEventHasNames) {
  Look(PageId::kEvent, "no event");
  Look(PageId::kEventSetUp, "a new event");
  EventContext& event = MakeEvent(home_);
  event.child = ChildOf(event, "12").uuid;
  for (const PageId page : {PageId::kEvent, PageId::kEventRoster, PageId::kStation,
                            PageId::kStationDone, PageId::kEventAfter}) {
    Look(page, "event, page " + std::to_string(static_cast<int>(page)));
  }
  EXPECT_GT(seen_, 40);
}

TEST_F(ScreenReaderTest, EveryPageForCliniciansHasNames) {
  Clinic& clinic = OpenedClinic(home_);
  const RowId mira = AddHistory(clinic, Improving(), 3);
  clinic.patient = mira;
  clinic.measurement = clinic.store.Measurements(mira)->back().id;
  for (const PageId page :
       {PageId::kClinic, PageId::kClinicPatient, PageId::kClinicSession, PageId::kClinicReceive,
        PageId::kClinicPlan, PageId::kClinicFindings, PageId::kClinicSetup}) {
    Look(page, "clinic, page " + std::to_string(static_cast<int>(page)));
  }
  EXPECT_GT(seen_, 60);
}

}  // namespace
}  // namespace nearpoint
