// Somebody who uses the window by the keyboard without an end: first run, measurement, the question
// after it, the result, the exercise, and again. Made for a process that is killed.
#pragma once

#include <QPushButton>
#include <QTimer>
#include <functional>
#include <optional>
#include <utility>

#include "app/window/exercise/exercise_session.h"
#include "app/window/pages/exercise_page.h"
#include "app/window/pages/measure_page.h"
#include "app/window/percept.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"
#include "tests/support/exercise_patient.h"

namespace nearpoint {

class HomeScript : public QObject {
 public:
  // exercises: every second thing done is the exercise. step: called for each picture of a
  // measurement and each second of an exercise.
  HomeScript(Home& home, bool exercises, std::function<void()> step)
      : home_(home),
        window_(home.window()),
        exercises_(exercises),
        step_(std::move(step)),
        driver_(home.live(), home.window()) {
    window_.AddPage(PageId::kExercise, [](AppContext& context, QWidget* parent) -> Page* {
      return new ExercisePage(context, parent, ExercisePage::Feed::kGiven);
    });
    connect(&home.live(), &Live::FrameArrived, this, [this] { step_(); });
    connect(&steps_, &QTimer::timeout, this, &HomeScript::Step);
    steps_.start(2);
  }

 private:
  void Step() {
    switch (window_.shown()) {
      case PageId::kWelcome:
        if (window_.focusWidget() != nullptr) QTest::keyClicks(window_.focusWidget(), "Mira");
        PressKey(window_, Qt::Key_Return);
        return;
      case PageId::kSafety:
        if (!Choose("continue")) Choose("no");
        return;
      case PageId::kComfort:
        Choose("fine");
        return;
      case PageId::kLearn:
        Choose("skip");
        return;
      case PageId::kLag:
        window_.page()->setFocus();  // away from "Begin": Return then skips
        PressKey(window_, Qt::Key_Return);
        return;
      case PageId::kHome:
        AtHome();
        return;
      case PageId::kMeasure:
        Measure();
        return;
      case PageId::kExercise:
        Exercise();
        return;
      case PageId::kResult:
      case PageId::kDiary:
        PressKey(window_, Qt::Key_Escape);
        return;
      default:
        PressKey(window_, Qt::Key_Return);
        return;
    }
  }

  // As by Tab and Return.
  bool Choose(const char* name) {
    auto* button = ShownButton(window_, name);
    if (button == nullptr) return false;
    button->setFocus();
    PressKey(window_, Qt::Key_Return);
    return true;
  }

  void AtHome() {
    begun_ = false;
    patient_.reset();
    if (!home_.context().practice) {
      Choose("practice");
    } else if (exercises_ && ++visits_ % 2 == 1) {
      Choose("exercise");
    } else if (!Choose("go_on")) {
      Choose("measure");
    }
  }

  void Measure() {
    const auto& page = static_cast<const MeasurePage&>(*window_.page());
    const bool waits = !begun_ || page.flow().state().phase == FlowPhase::kRest;
    if (!waits) return;
    begun_ = true;
    PressKey(window_, Qt::Key_Space);
  }

  void Exercise() {
    auto& page = static_cast<ExercisePage&>(*window_.page());
    if (page.stage() == ExercisePage::Stage::kAfter) {
      Choose("fine");
      return;
    }
    if (page.stage() != ExercisePage::Stage::kRunning) {
      PressKey(window_, Qt::Key_Return);
      return;
    }
    if (!patient_) {
      testing::ExercisePatient person;
      person.pupil_distance_mm = page.session().view().pupils.value.mm();
      patient_.emplace(person, 1);
    }
    step_();
    constexpr int kFramesAStep = 30;  // a second of pictures
    for (int i = 0; i < kFramesAStep; ++i) {
      if (page.stage() != ExercisePage::Stage::kRunning) return;
      const RepetitionCounter* const counter = page.session().counter();
      if (const auto& pair = page.session().pair()) patient_->SetSeparation(pair->separation.mm());
      const auto frame = patient_->Next(counter ? counter->phase() : CounterPhase::kLookFar);
      if (frame.report) QTest::keyClick(&window_, Qt::Key_Space);
      if (frame.sample) page.OnSample(*frame.sample);
    }
  }

  Home& home_;
  MainWindow& window_;
  bool exercises_;
  std::function<void()> step_;
  PressDriver driver_;
  QTimer steps_;
  bool begun_ = false;
  int visits_ = 0;
  std::optional<testing::Exerciser> patient_;
};

}  // namespace nearpoint
