// window_pictures FOLDER: a PNG of every page in every state, to be looked at. Needs no display.
#include <QComboBox>
#include <QDir>
#include <QElapsedTimer>
#include <QLineEdit>
#include <QPushButton>
#include <cstdio>
#include <functional>
#include <string>

#include "app/live/practice_card.h"
#include "app/live/preview.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/measure_view.h"
#include "app/window/pages/card_touch_page.h"
#include "app/window/pages/measure_page.h"
#include "tests/app/window/answer_safety.h"
#include "tests/app/window/card_show.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/stored_session.h"

namespace nearpoint {
namespace {

const QString kLongName = "Maximiliane-Theodora von und zu Wittelsbach-Hohenlohe-Schillingsfürst";

QImage FaceAt(double mm) {
  PracticeOptions options = DefaultPractice();
  options.patient.behaviour.start = Length::Millimeters(mm);
  options.patient.behaviour.trials = 1;
  auto patient = simulate::MakePatient(options.patient);
  if (!patient) return {};
  auto frame = (*patient)->Next();
  return frame && *frame ? MirroredPreview((*frame)->bgr()) : QImage();
}

class Photographer {
 public:
  explicit Photographer(QString folder) : folder_(std::move(folder)), face_(FaceAt(330)) {}

  // A look of the window: language, text size, window size.
  // Of one part alone where it is named.
  void Take(const QString& look, const QString& language, double scale, QSize size,
            const QString& part) {
    look_ = look;
    language_ = language;
    scale_ = scale;
    size_ = size;
    const std::pair<const char*, void (Photographer::*)()> parts[] = {
        {"first_run", &Photographer::FirstRun},
        {"card", &Photographer::CardCalibration},
        {"practice", &Photographer::PracticeCardAndDeletion},
        {"home", &Photographer::HomeStates},
        {"measurement", &Photographer::Measurement},
        {"results", &Photographer::Results}};
    for (const auto& [name, take] : parts) {
      if (part.isEmpty() || part == name) (this->*take)();
    }
  }

  [[nodiscard]] int count() const { return count_; }

 private:
  void Save(MainWindow& window, const QString& name) {
    window.resize(size_);
    for (int i = 0; i < 4; ++i) QApplication::processEvents();
    const QString file = QString("%1/%2-%3.png").arg(folder_, look_, name);
    if (window.grab().save(file)) ++count_;
  }

  void Prepare() const {
    UseLanguage(language_);
    look::SetScale(scale_);
  }

  Person AddSomebody(Home& home, const QString& name) const {
    Person person;
    person.name = name;
    person.birth_year = 1990;
    return home.store().AddPerson(person).value();
  }

  void FirstRun() {
    Prepare();
    Home home;
    MainWindow& window = home.Open();
    Save(window, "01-welcome");
    window.findChild<QLineEdit*>()->setText(kLongName);
    window.findChildren<QLineEdit*>().at(1)->setText("2017");
    Save(window, "02-welcome-child");
    const std::pair<PageId, const char*> pages[] = {{PageId::kAbout, "03-about"},
                                                    {PageId::kCautions, "04-cautions"},
                                                    {PageId::kCard, "06-card"},
                                                    {PageId::kCardPrint, "06-card-print"},
                                                    {PageId::kCardTarget, "06-card-target"},
                                                    {PageId::kCardScreen, "06-card-screen"},
                                                    {PageId::kLag, "07-lag"},
                                                    {PageId::kLearn, "08-learn"}};
    for (const auto& [page, name] : pages) {
      window.Show(page);
      Save(window, name);
    }
    home.context().open_source = [](const AppContext&) -> OpenLiveSource {
      return []() -> Result<LiveSource> {
        return Fail(ErrorCode::kNotFound, "/dev/video0: there is no such camera.");
      };
    };
    window.Show(PageId::kCamera);
    WaitFor(window, [&] { return !home.live().running(); });
    Save(window, "05-camera-missing");
    home.context().open_source = [](const AppContext&) { return OpenPractice(FastPractice()); };
    window.Show(PageId::kCamera);
    int frames = 0;
    QObject::connect(&home.live(), &Live::FrameArrived, &window, [&frames] { ++frames; });
    WaitFor(window, [&] { return frames > 12; });
    Save(window, "05-camera");
  }

  // Calibration by the card: before, in the middle, and after.
  void CardCalibration() {
    Prepare();
    Home home;
    AddSomebody(home, "Mira");
    MainWindow& window = home.Open();
    const auto says_next = [&window](const QString& text) {
      for (const QPushButton* button : window.page()->findChildren<QPushButton*>()) {
        if (button->property("role") == "next" && button->text() == text) return true;
      }
      return false;
    };
    const auto tr = [](const char* page, const char* text) {
      return QCoreApplication::translate(page, text);
    };
    int looks = 0;
    QObject::connect(&home.live(), &Live::Looked, &window, [&looks] { ++looks; });
    for (const std::size_t tilts : {std::size_t{1}, std::size_t{7}, std::size_t{0}}) {
      home.context().open_card_source = [tilts](const AppContext&, CardTask) {
        return ShowCard(drawn::PatternCard(), tilts);
      };
      looks = 0;
      window.Show(PageId::kCardCamera);
      if (tilts == 0) break;
      WaitFor(window, [&] { return looks > static_cast<int>(2 * tilts); });
      Save(window, tilts == 1 ? "50-card-camera" : "51-card-camera-part");
    }
    WaitFor(window, [&] { return says_next(tr("nearpoint::CardCameraPage", "Continue")); });
    Save(window, "52-card-camera-done");
    home.context().profile.camera = CardShow::Webcam();
    home.context().open_card_source = [](const AppContext&, CardTask) { return ShowSheet(0.94); };
    window.Show(PageId::kCardPrint);
    window.page()->findChild<QPushButton*>("look")->click();
    WaitFor(window, [&] { return !home.live().running(); });
    Save(window, "56-card-print-refused");
    home.context().profile.camera = simulate::TrueProfile(CardOnForehead()).camera;
    window.Show(PageId::kCardFace);
    Save(window, "57-card-face-refused");
    home.context().open_card_source = [](const AppContext&, CardTask) {
      return ShowCardOnForehead();
    };
    looks = 0;
    window.Show(PageId::kCardFace);
    window.page()->findChild<QPushButton*>("unchecked")->click();
    WaitFor(window, [&] { return looks > 12; });
    Save(window, "53-card-face");
    WaitFor(window, [&] { return says_next(tr("nearpoint::CardFacePage", "Continue")); });
    Save(window, "54-card-face-done");
    window.Show(PageId::kCard);
    Save(window, "55-card-measured");
    home.context().open_card_source = [](const AppContext& context, CardTask task) {
      return OpenCardPractice(task, context.profile, PracticePace::kAtOnce);
    };
    looks = 0;
    window.Show(PageId::kCardTouch);
    Save(window, "58-card-touch-print");
    window.page()->findChild<QPushButton*>("unchecked")->click();
    WaitFor(window, [&] { return looks > 3; });
    Save(window, "59-card-touch");
    simulate::PatientOptions photo = CardToTheNose();
    photo.card->width = Length::Millimeters(100);
    photo.card->height = Length::Millimeters(60);
    const OpenLiveSource touches[] = {ShowTouch(CardToTheNose(), FromMilliseconds(4500)),
                                      ShowTouch(photo), ShowTouch(CardToTheNose())};
    const char* const names[] = {"59-card-touch-dark", "59-card-touch-shape", "59-card-touch-done"};
    for (std::size_t i = 0; i < std::size(touches); ++i) {
      home.context().open_card_source = [&](const AppContext&, CardTask) { return touches[i]; };
      window.Show(PageId::kCardTouch);
      window.page()->findChild<QPushButton*>("unchecked")->click();
      auto& page = static_cast<CardTouchPage&>(*window.page());
      Time at{};
      const auto heard = QObject::connect(&home.live(), &Live::Looked, &window,
                                          [&at](const CardLook& look) { at = look.time; });
      WaitFor(window, [&] { return at >= FromMilliseconds(7500); });
      page.TakePress();
      WaitFor(window, [&] { return page.stage() == CardTouchPage::Stage::kOver; });
      QObject::disconnect(heard);
      Save(window, names[i]);
    }
  }

  // What nobody's name changes, and everything about somebody.
  void PracticeCardAndDeletion() {
    Prepare();
    Home home;
    AddSomebody(home, kLongName);
    MainWindow& window = home.Open(/*practice=*/true);
    window.Show(PageId::kCard);
    Save(window, "60-practice-card");
    home.context().practice = false;
    window.Show(PageId::kDeletePerson);
    Save(window, "61-delete-person");
  }

  static void WaitFor(const MainWindow&, const std::function<bool()>& done) {
    QElapsedTimer since;
    since.start();
    while (!done() && since.elapsed() < 30000) {
      QApplication::processEvents(QEventLoop::WaitForMoreEvents | QEventLoop::AllEvents, 50);
    }
    for (int i = 0; i < 5; ++i) QApplication::processEvents();
  }

  void HomeStates() {
    Prepare();
    Home home;
    const Person person = AddSomebody(home, "Mira");
    MainWindow& window = home.Open();
    Save(window, "10-home");
    window.Show(PageId::kPast);
    Save(window, "11-past-empty");
    window.Show(PageId::kSettings);
    Save(window, "12-settings");
    AddSession(home.store(), person.id, {ComputedTrial(1, 92, 121), ComputedTrial(2, 96, 124)});
    window.Show(PageId::kHome);
    Save(window, "13-home-unfinished");
    window.Show(PageId::kPast);
    Save(window, "14-past");
    Person renamed = person;
    renamed.name = kLongName;
    home.context().person = renamed;
    home.context().practice = true;
    window.Show(PageId::kHome);
    Save(window, "15-home-long-name-practice");
  }

  // Before a measurement: each question, and what stops.
  void Questions(Home& home, MainWindow& window) {
    Person child = AddSomebody(home, "Jo");
    child.birth_year = 2017;
    static_cast<void>(home.store().UpdatePerson(child));
    nearpoint::Choose(home.context(), child);
    for (const PageId page : {PageId::kMeasure, PageId::kExercise}) {
      window.Show(page);
      for (int i = 0; i < 20 && window.shown() == PageId::kSafety; ++i) {
        HandleEvents();
        const QString asked = AskedNow(window);
        Save(window, "16-question-" + (asked.isEmpty() ? QString("ready") : asked));
        if (Choose(window, "continue")) continue;
        const bool yes = asked == "adult_beside" || asked == "told_to_exercise";
        if (!Choose(window, yes ? "yes" : "no")) break;
      }
    }
    window.Show(PageId::kMeasure);
    HandleEvents();
    Choose(window, "yes");
    Save(window, "17-stopped");
    window.Show(PageId::kHome);
    Save(window, "18-home-stopped");
    home.context().safety_said.clear();
    nearpoint::Choose(home.context(), AddSomebody(home, "Kim"));
    home.context().safety_trouble[home.context().person->id] = true;
    window.Show(PageId::kMeasure);
    HandleEvents();
    Save(window, "19-whom");
    nearpoint::Choose(home.context(), home.store().People()->front());
  }

  void Measurement() {
    Prepare();
    Home home;
    AddSomebody(home, "Mira");
    MainWindow& window = home.Open();
    Questions(home, window);
    ShowAnswered(window, PageId::kMeasure);
    Save(window, "20-measure-instructions");
    auto* view = window.page()->findChild<MeasureView*>();
    view->ShowRunning();
    view->SetPreview(face_);
    std::vector<Trial> trials{ComputedTrial(1, 92, 121).trial, ComputedTrial(2, 95, 120).trial};
    trials[1].set_aside = SetAside::kTooFast;
    view->SetTrials(trials);
    FlowState state;
    state.trial = 3;
    state.lost = LostReason::kNoFace;
    Show(window, *view, state, "21-measure-find");
    state.lost.reset();
    state.phase = FlowPhase::kMoveBack;
    state.distance = Length::Millimeters(231);
    Show(window, *view, state, "22-measure-move-back");
    state.phase = FlowPhase::kReady;
    state.distance = Length::Millimeters(341);
    Show(window, *view, state, "23-measure-ready");
    state.phase = FlowPhase::kApproach;
    state.distance = Length::Millimeters(212);
    state.companion = Length::Millimeters(198);
    state.pace = {Speed::MillimetersPerSecond(15), PaceVerdict::kGood};
    Show(window, *view, state, "24-measure-approach");
    state.distance = Length::Millimeters(140);
    state.companion = Length::Millimeters(190);
    state.pace.verdict = PaceVerdict::kTooFast;
    Show(window, *view, state, "25-measure-too-fast");
    state.companion.reset();
    state.phase = FlowPhase::kAsNear;
    state.distance = Length::Millimeters(52);
    state.pace = {};
    Show(window, *view, state, "26-measure-as-near");
    state.phase = FlowPhase::kReturn;
    state.distance = Length::Millimeters(97);
    state.pace.verdict = PaceVerdict::kTooSlow;
    view->ShowHeard(true);
    Show(window, *view, state, "27-measure-return");
    state.phase = FlowPhase::kRest;
    state.rest_left = FromMilliseconds(7200);
    state.distance = Length::Millimeters(380);
    state.pace = {};
    Show(window, *view, state, "28-measure-rest");
    for (const SetAside reason : {SetAside::kTooFast, SetAside::kTrackingLost}) {
      state.set_aside = reason;
      Show(window, *view, state,
           reason == SetAside::kTooFast ? "29-measure-set-aside" : "30-measure-set-aside-lost");
    }
    const auto tr = [](const char* text, int n = -1) {
      return QCoreApplication::translate("nearpoint::MeasurePage", text, nullptr, n);
    };
    view->ShowBroken({QCoreApplication::translate("nearpoint::MeasurePage", "The camera stopped"),
                      tr("Plug it in and press any key to go on.") + ' ' +
                          tr("%n round(s) that count are safe.", 2) + ' ' +
                          words::SourceError({ErrorCode::kUnavailable, ""}),
                      ""},
                     words::Detail({ErrorCode::kUnavailable,
                                    "camera 0: no picture for 2 seconds; it may be unplugged."}));
    Save(window, "31-measure-broken");
    view->ShowTrouble(words::ForError(
        {ErrorCode::kNotWritable,
         "/home/mira/nearpoint.db: this file cannot be written; make room on the disk or check the "
         "permissions (database or disk is full)."}));
    Save(window, "32-measure-disk-full");
    static_cast<void>(home.store().SetSetting("target", "screen"));
    ShowAnswered(window, PageId::kMeasure);
    view = window.page()->findChild<MeasureView*>();
    view->ShowRunning();
    view->SetPreview(face_);
    view->SetTrials(trials);
    state = {};
    state.trial = 3;
    state.phase = FlowPhase::kApproach;
    state.distance = Length::Millimeters(212);
    state.pace = {Speed::MillimetersPerSecond(15), PaceVerdict::kGood};
    Show(window, *view, state, "36-measure-letter-on-screen");
    static_cast<void>(home.store().SetSetting("target", "printed"));
    home.context().practice = true;
    window.Show(PageId::kMeasure);
    Save(window, "33-practice-instructions");
    view = window.page()->findChild<MeasureView*>();
    view->ShowRunning();
    view->SetPreview(face_);
    view->SetPercept(true);
    view->SetTrials({});
    state = {};
    state.phase = FlowPhase::kApproach;
    state.distance = Length::Millimeters(90);
    state.companion = Length::Millimeters(86);
    state.pace.verdict = PaceVerdict::kGood;
    Show(window, *view, state, "34-practice-approach");
    home.context().practice = false;
    window.Show(PageId::kComfort);
    Save(window, "35-comfort");
  }

  void Show(MainWindow& window, MeasureView& view, const FlowState& state, const char* name) {
    view.SetState(state);
    view.SetPrompt(words::ForPhase(state));
    Save(window, name);
  }

  void SaveResult(Home& home, const std::vector<StoredTrial>& trials, const QString& comfort,
                  const char* name, bool details = false, bool practice = false) {
    const RowId session = AddSession(home.store(), home.context().person->id, trials, practice);
    static_cast<void>(home.store().EndSession(session, comfort));
    home.context().session = session;
    home.context().practice = practice;
    home.window().Show(PageId::kResult);
    if (details) home.window().page()->findChild<QPushButton*>("details")->click();
    Save(home.window(), name);
    home.context().practice = false;
  }

  void Results() {
    Prepare();
    Home home;
    const Person person = AddSomebody(home, "Mira");
    home.Open();
    home.context().person = person;
    const auto trials = [](std::initializer_list<double> breaks) {
      std::vector<StoredTrial> all;
      for (const double mm : breaks) {
        all.push_back(ComputedTrial(static_cast<int>(all.size()) + 1, mm, mm + 29));
      }
      return all;
    };
    SaveResult(home, trials({92, 96, 94}), "fine", "40-result-beyond");
    SaveResult(home, trials({45, 43, 46, 44}), "fine", "41-result-within");
    SaveResult(home, trials({60, 66, 71}), "tired", "42-result-cannot-tell");
    auto nose = trials({50, 50, 50});
    for (StoredTrial& stored : nose) {
      stored.trial.break_point.reset();
      stored.trial.recovery.reset();
      stored.trial.censored = Censoring::kBelow;
      stored.trial.limit = Length::Millimeters(47);
    }
    SaveResult(home, nose, "fine", "43-result-to-the-nose");
    auto none = trials({90, 88});
    for (StoredTrial& stored : none) stored.trial.set_aside = SetAside::kTrackingLost;
    SaveResult(home, none, "fine", "44-result-nothing-counts");
    SaveResult(home, trials({92, 96, 94}), "double", "45-result-still-double");
    SaveResult(home, trials({92, 96, 94}), "fine", "46-result-practice", false, true);
    auto mixed = trials({92, 96, 94, 99});
    mixed[1].trial.set_aside = SetAside::kTooFast;
    const QSize size = size_;
    size_.setHeight(static_cast<int>(1450 * scale_));
    SaveResult(home, mixed, "fine", "47-result-details", true);
    size_ = size;
    home.context().session = 0;
    home.window().Show(PageId::kResult);
    Save(home.window(), "48-result-none");
  }

  QString folder_;
  QImage face_;
  QString look_, language_;
  double scale_ = 1;
  QSize size_;
  int count_ = 0;
};

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  if (argc < 2 || argc > 4) {
    std::fputs("usage: window_pictures FOLDER [LOOK [PART]]\n", stderr);
    return 2;
  }
  if (!qEnvironmentVariableIsSet("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
  QApplication application(argc, argv);
  QApplication::setStyle("Fusion");
  const QString folder = QString::fromLocal8Bit(argv[1]);
  if (!QDir().mkpath(folder)) {
    std::fprintf(stderr, "%s: this folder cannot be made.\n", argv[1]);
    return 1;
  }
  nearpoint::Photographer photographer(folder);
  const struct {
    const char* look;
    const char* language;
    double scale;
    QSize size;
  } looks[] = {{"en", "en", 1, {1080, 760}},
               {"de", "de", 1, {1080, 760}},
               {"en200", "en", 2, {1280, 800}},
               {"de200small", "de", 2, {900, 700}},
               {"de200low", "de", 2, {1024, 600}}};
  for (const auto& [look, language, scale, size] : looks) {
    if (argc > 2 && QString(argv[2]) != look) continue;
    photographer.Take(look, language, scale, size, argc > 3 ? argv[3] : "");
  }
  std::printf("%d pictures in %s\n", photographer.count(), argv[1]);
  return 0;
}
