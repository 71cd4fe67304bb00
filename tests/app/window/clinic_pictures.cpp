// clinic_pictures FOLDER: a PNG of the clinic's pages and of home's way there and back, in every
// state, to be looked at. Needs no display.
#include <QCheckBox>
#include <QComboBox>
#include <QDir>
#include <QLineEdit>
#include <QPushButton>
#include <cstdio>

#include "app/store/eye_picture_store.h"
#include "app/window/clinic/plan_page.h"
#include "app/window/clinic/receive_page.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/send/plan_file_page.h"
#include "app/window/send/send_page.h"
#include "tests/app/window/clinic_home.h"

namespace nearpoint {
namespace {

const QString kLongName = "Maximiliane-Theodora von und zu Wittelsbach-Hohenlohe-Schillingsfürst";

SentSession Measured(const char* day, double mm, const char* comfort = "fine") {
  SentSession sent;
  sent.started_at = std::string(day) + "T08:10:00+01:00";
  sent.breaks_mm = {mm - 2, mm, mm + 3};
  sent.comfort = comfort;
  return sent;
}

class Photographer {
 public:
  explicit Photographer(QString folder) : folder_(std::move(folder)) {}

  void Take(const QString& look, const QString& language, double scale, QSize size) {
    look_ = look;
    size_ = size;
    scale_ = scale;
    UseLanguage(language);
    look::SetScale(scale);
    Empty();
    Full();
    AtHome();
  }
  [[nodiscard]] int count() const { return count_; }

 private:
  // tall: so high that nothing is below the edge.
  void Save(MainWindow& window, const QString& name, int tall = 0) {
    QSize size = size_;
    if (tall > 0) size.setHeight(static_cast<int>(tall * scale_));
    window.resize(size);
    for (int i = 0; i < 4; ++i) QApplication::processEvents();
    if (window.grab().save(QString("%1/%2-%3.png").arg(folder_, look_, name))) ++count_;
  }

  void Empty() {
    Home home;
    MainWindow& window = home.Open();
    window.Show(PageId::kClinic);
    Save(window, "01-patients-empty");
    window.Show(PageId::kClinicSetup);
    Save(window, "02-setup-empty", 900);
    window.Show(PageId::kClinicReceive);
    static_cast<ReceivePage*>(window.page())->Take({"/stick/from-home.nearpoint"});
    Save(window, "03-receive-no-keys");
  }

  void Full() {
    Home home;
    MainWindow& window = home.Open();
    Clinic& clinic = OpenedClinic(home);
    History improving = Improving();
    improving.pictures = true;
    const RowId mira = AddHistory(clinic, improving, 3);
    AddHistory(
        clinic,
        {kLongName, "2026/000417-B", 1990, {Measured("2026-03-12", 96, "double")}, {}, false}, 4);
    SentSession odd = Measured("2026-03-11", 48);
    odd.eyes_disagree = true;
    odd.seen = 0.7;
    AddHistory(clinic, {"Jonas Weber", "", 1985, {odd}, {}, false}, 5);
    AddHistory(clinic, {"Ada Novak", "N-77", {}, {Measured("2026-03-10", 44)}, {}, false}, 6);
    AddHistory(clinic, {"Lena", "", {}, {Measured("2026-03-13", 71)}, {}, false}, 7,
               /*match=*/false);
    ExercisePlan plan = CommonPracticePlan();
    plan.source = PlanSource::kClinician;
    plan.set_by = "A. Optometrist";
    plan.starts = OnDay("2026-01-12");
    plan.measure_on = {OnDay("2026-02-09"), OnDay("2026-03-09")};
    plan.stop_when = {"Double vision stays after stopping."};
    static_cast<void>(clinic.store.AddPlan(mira, "A. Optometrist", plan));
    window.Show(PageId::kClinic);
    Save(window, "10-patients");
    window.findChild<QLineEdit*>("search")->setText("nov");
    Save(window, "11-patients-found");
    clinic.patient = mira;
    window.Show(PageId::kClinicPatient);
    Save(window, "12-patient");
    window.Show(PageId::kClinicPatient);
    Save(window, "13-patient-whole", 2150);
    window.findChild<QPushButton*>("delete")->click();
    Save(window, "14-patient-delete-asked", 2150);
    clinic.measurement = clinic.store.Measurements(mira)->back().id;
    window.Show(PageId::kClinicSession);
    Save(window, "15-session");
    window.Show(PageId::kClinicSession);
    Save(window, "16-session-whole", 2250);
    window.findChild<QPushButton*>("set_aside")->click();
    Save(window, "17-session-no-reason");
    window.findChild<QLineEdit*>("reason")->setText("the head turned away");
    window.findChild<QPushButton*>("set_aside")->click();
    Save(window, "18-session-reviewed", 2000);
    window.Show(PageId::kClinicFindings);
    window.findChild<QLineEdit*>("field1")->setText("8");
    window.findChild<QLineEdit*>("field2")->setText("2");
    window.findChild<QLineEdit*>("field4")->setText("12");
    Save(window, "19-findings", 1100);
    window.findChild<QLineEdit*>("field7")->setText("many");
    Save(window, "20-findings-no-number");
    window.Show(PageId::kClinicPlan);
    Save(window, "21-plan", 1200);
    window.findChild<QLineEdit*>("levels")->setText("200, near");
    window.findChild<QPushButton*>("keep")->click();
    Save(window, "22-plan-wrong");
    window.Show(PageId::kClinicReceive);
    Save(window, "23-receive-waiting");
    static_cast<ReceivePage*>(window.page())
        ->Take({QString::fromStdString(home.folder().Write("broken.nearpoint", "NPSEALED"))});
    Save(window, "24-receive-broken");
    window.Show(PageId::kClinicSetup);
    Save(window, "25-setup", 2200);
    static_cast<void>(
        clinic.store.SetSetting("fhir_server", "https://records.lindenhof.example/fhir/r4"));
    window.Show(PageId::kClinicReceive);
    Save(window, "28-receive-server", 1000);
    clinic.patient = mira;
    window.Show(PageId::kClinicSession);
    Save(window, "29-session-server", 2350);
    clinic.patient = 999;
    window.Show(PageId::kClinicPatient);
    Save(window, "26-patient-gone");
    static_cast<void>(clinic.store.database().Run("UPDATE journal SET by = 'x' WHERE number = 2"));
    static_cast<void>(clinic.store.database().Run("UPDATE measurement SET review = 'x'"));
    window.Show(PageId::kClinicSession);
    Save(window, "27-session-tampered");
  }

  void AtHome() {
    Home home;
    Person person;
    person.name = "Mira";
    person.birth_year = 2014;
    const Person mira = home.store().AddPerson(person).value();
    MainWindow& window = home.Open();
    Save(window, "30-home");
    window.Show(PageId::kSend);
    Save(window, "31-send-empty");
    for (int i = 0; i < 2; ++i) {
      const RowId id = AddSession(home.store(), mira.id, {ComputedTrial(1, 92, 121)});
      const QString text = QString::fromStdString(SerializeSession(MakeSession({})));
      static_cast<void>(home.store().database().Run(
          "UPDATE session SET session_json = ? WHERE id = ?", {text, id}));
    }
    static_cast<void>(HomeKeys(home.store()).Create("Demir family"));
    static_cast<void>(
        HomeKeys(home.store()).AddContact("Eye Clinic Lindenhof", KeysNumber(9).card()));
    const RowId newest = home.store().Sessions(mira.id)->front().id;
    const EyePictureStore pictures(home.store());
    static_cast<void>(pictures.SetMayBeKept(mira.id, true));
    static_cast<void>(pictures.Add(newest, {1, EyeMoment::kBreak, EyeJpeg(11)}));
    static_cast<void>(
        home.store().SetSetting("fhir_server", "https://records.lindenhof.example/fhir/r4"));
    window.Show(PageId::kSend);
    window.findChild<QCheckBox*>("pictures")->setChecked(true);
    Save(window, "32-send", 3000);
    static_cast<SendPage*>(window.page())
        ->SealTo(QString::fromStdString(home.folder() / "near-point.nearpoint"));
    Save(window, "33-send-sealed");
    ExercisePlan plan = CommonPracticePlan();
    plan.source = PlanSource::kClinician;
    plan.set_by = "A. Optometrist";
    plan.starts = OnDay("2026-03-16");
    plan.measure_on = {OnDay("2026-03-30")};
    plan.stop_when = {"Double vision stays after stopping.", "It hurts."};
    plan.note = "Rest on Sundays.";
    window.Show(PageId::kPlanFile);
    Save(window, "34-plan-file");
    static_cast<PlanFilePage*>(window.page())
        ->Load(QString::fromStdString(home.folder().Write("p.json", SerializeExercisePlan(plan))));
    Save(window, "35-plan-shown", 900);
    static_cast<PlanFilePage*>(window.page())
        ->Load(QString::fromStdString(home.folder().Write("q.json", "{}")));
    Save(window, "36-plan-wrong");
  }

  QString folder_, look_;
  double scale_ = 1;
  QSize size_;
  int count_ = 0;
};

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fputs("usage: clinic_pictures FOLDER\n", stderr);
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
  photographer.Take("en", "en", 1, {1080, 760});
  photographer.Take("de", "de", 1, {1080, 760});
  photographer.Take("en200", "en", 2, {1280, 800});
  photographer.Take("de200small", "de", 2, {900, 700});
  std::printf("%d pictures in %s\n", photographer.count(), argv[1]);
  return 0;
}
