// exercise_pictures FOLDER: a PNG of the exercise and the diary in every state, to be looked at.
// Needs no display.
#include <QApplication>
#include <QDir>
#include <QLabel>
#include <QPushButton>
#include <cstdio>

#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/pages/exercise_page.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/home_fixture.h"
#include "tests/support/exercise_patient.h"

namespace nearpoint {
namespace {

using testing::Doing;
using testing::ExercisePatient;
using testing::Exerciser;

class Photographer {
 public:
  explicit Photographer(QString folder) : folder_(std::move(folder)) {}

  void Take(const QString& name, const QString& language, double scale, QSize size) {
    name_ = name;
    size_ = size;
    UseLanguage(language);
    look::SetScale(scale);
    Exercises();
    Diaries();
  }
  [[nodiscard]] int count() const { return count_; }

 private:
  void Save(MainWindow& window, const QString& state) {
    window.resize(size_);
    for (int i = 0; i < 6; ++i) QApplication::processEvents();
    if (window.grab().save(QString("%1/%2-%3.png").arg(folder_, name_, state))) ++count_;
  }

  void Prepare(Home& home, MainWindow& window) {
    Person person;
    person.name = "Mika";
    Choose(home.context(), home.store().AddPerson(person).value());
    window.AddPage(PageId::kExercise, [](AppContext& context, QWidget* parent) -> Page* {
      return new ExercisePage(context, parent, ExercisePage::Feed::kGiven);
    });
    window.resize(size_);
    window.show();
  }

  static ExercisePage& PageOf(MainWindow& window) {
    return *qobject_cast<ExercisePage*>(window.page());
  }

  // Runs until `until` says so, or 60 seconds.
  template <typename Until>
  static void Exercise(MainWindow& window, Exerciser& patient, double seconds, Until until) {
    for (int i = 0; i < seconds * 30; ++i) {
      ExercisePage& page = PageOf(window);
      if (page.stage() != ExercisePage::Stage::kRunning || until(page)) return;
      const RepetitionCounter* const counter = page.session().counter();
      if (page.session().pair()) patient.SetSeparation(page.session().pair()->separation.mm());
      const auto frame = patient.Next(counter ? counter->phase() : CounterPhase::kLookFar);
      if (frame.report) page.TakePress();
      if (frame.sample) page.OnSample(*frame.sample);
    }
  }

  static ExercisePatient Patient(ExercisePage& page, Doing doing) {
    ExercisePatient p;
    p.doing = doing;
    p.pupil_distance_mm = page.session().view().pupils.value.mm();
    return p;
  }

  void Exercises() {
    Home home;
    MainWindow window(home.context());
    Prepare(home, window);
    const auto never = [](ExercisePage&) { return false; };
    ShowAnswered(window, PageId::kExercise);
    Save(window, "01-before");
    window.findChild<QPushButton*>("screen")->click();
    Save(window, "02-screen");
    window.findChild<QPushButton*>("skip")->click();
    Save(window, "03-find");
    Exerciser patient(Patient(PageOf(window), Doing::kWell), 1);
    const auto in_phase = [](CounterPhase phase) {
      return [phase](ExercisePage& page) {
        return page.session().counter() && page.session().counter()->phase() == phase;
      };
    };
    Exercise(window, patient, 60, in_phase(CounterPhase::kLookFar));
    Save(window, "04-look");
    Exercise(window, patient, 60, in_phase(CounterPhase::kBringNear));
    Save(window, "05-bring");
    Exercise(window, patient, 60, [](ExercisePage& page) {
      return page.session().counter() && page.session().counter()->held_s() > 2;
    });
    Save(window, "06-hold");
    patient.Set(Doing::kOnlyHand);
    Exercise(window, patient, 60, [](ExercisePage& page) {
      return page.session().counter()->warning() == CounterWarning::kOnlyHand;
    });
    Save(window, "07-only-hand");
    Exercise(window, patient, 12, never);
    Save(window, "08-not-counted");
    PageOf(window).OnFailed({ErrorCode::kUnavailable, "Camera 0 was unplugged or is in use."});
    Save(window, "09-camera-lost");
    window.findChild<QPushButton*>("next")->click();
    patient.Set(Doing::kWell);
    Exercise(window, patient, 600, never);
    Save(window, "10-numbers");
    window.findChild<QPushButton*>("double")->click();
    Save(window, "11-double");
  }

  void Diaries() {
    Home home;
    MainWindow window(home.context());
    Prepare(home, window);
    window.Show(PageId::kDiary);
    Save(window, "12-diary-empty");
    ExerciseStore store(home.store());
    ExercisePlan plan = CommonPracticePlan();
    plan.source = PlanSource::kClinician;
    plan.set_by = "Dr. Maximiliane-Theodora von und zu Wittelsbach-Hohenlohe";
    plan.days_per_week = 5;
    plan.note = "Rest whenever it strains.";
    const Day today = Day(std::chrono::year(2026) / 3 / 14);
    plan.starts = today - std::chrono::days(33);
    plan.until = today + std::chrono::days(30);
    static_cast<void>(store.SetPlan(home.context().person->id, plan));
    for (int i = 33; i >= 1; --i) {
      if (i % 4 == 0 || i % 7 == 2) continue;
      ExerciseSetup setup;
      setup.person = home.context().person->id;
      setup.day = today - std::chrono::days(i);
      setup.plan = plan;
      setup.view = {{Length::Millimeters(58), Length::Millimeters(1.5)},
                    {Length::Millimeters(513), Length::Millimeters(8)}};
      const RowId id = store.Begin(setup).value();
      const int counted = i % 5 == 0 ? 6 : 10;
      for (int k = 1; k <= counted; ++k) {
        Attempt a;
        a.number = k;
        a.asked = Length::Millimeters(100 + 2.6 * i + (i * 7919 % 17));
        a.separation = Length::Millimeters(110 - 1.5 * i);
        a.held_s = 5;
        static_cast<void>(store.AddAttempt(id, a));
      }
      static_cast<void>(store.End(id, "fine"));
    }
    window.Show(PageId::kDiary);
    Save(window, "13-diary");
    static_cast<void>(home.store().database().Run("UPDATE exercise_session SET plan_json = '{}'"));
    window.Show(PageId::kDiary);
    Save(window, "14-diary-error");
  }

  QString folder_, name_;
  QSize size_;
  int count_ = 0;
};

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  qputenv("QT_QPA_PLATFORM", "offscreen");
  QApplication application(argc, argv);
  QApplication::setStyle("Fusion");
  if (argc != 2 || !QDir().mkpath(argv[1])) {
    std::fprintf(stderr, "usage: exercise_pictures FOLDER\n");
    return 2;
  }
  nearpoint::Photographer photographer(QString::fromLocal8Bit(argv[1]));
  photographer.Take("en", "en", 1, {1080, 760});
  photographer.Take("large", "en", 2, {1080, 760});
  photographer.Take("small", "de", 1, {640, 480});
  photographer.Take("de", "de", 1.5, {1080, 760});
  photographer.Take("tall", "en", 1, {900, 1500});
  std::printf("%d pictures in %s\n", photographer.count(), argv[1]);
  return 0;
}
