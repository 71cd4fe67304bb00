#include <gmock/gmock.h>

#include <QCheckBox>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QListView>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTest>

#include "app/records/atomic_file.h"
#include "app/store/exercise_store.h"
#include "app/window/clinic/patient_page.h"
#include "app/window/clinic/plan_page.h"
#include "app/window/clinic/receive_page.h"
#include "app/window/clinic/session_page.h"
#include "app/window/send/plan_file_page.h"
#include "app/window/send/send_page.h"
#include "tests/app/window/clinic_home.h"

namespace nearpoint {
namespace {

using testing::SizeIs;

template <typename Widget>
Widget* Find(MainWindow& window, const char* name) {
  auto* found = window.page()->findChild<Widget*>(name);
  EXPECT_NE(found, nullptr) << name;
  return found;
}

void Press(MainWindow& window, const char* button) {
  Find<QPushButton>(window, button)->click();
  for (int i = 0; i < 3; ++i) QApplication::processEvents();
}

QString Said(MainWindow& window) {
  auto* said = window.page()->findChild<QLabel*>("said");
  return said == nullptr ? QString() : said->text();
}

Person SomebodyAtHome(Home& home) {
  Person person;
  person.name = "Mira";
  person.birth_year = 1990;
  return home.store().AddPerson(person).value();
}

// A session whose file is that of the computed trials.
RowId Measured(Home& home, RowId person) {
  const RowId session =
      AddSession(home.store(), person, {ComputedTrial(1, 92, 121), ComputedTrial(2, 96, 124)});
  SentSession sent;
  sent.breaks_mm = {92, 96};
  const QString text = QString::fromStdString(SerializeSession(MakeSession(sent)));
  EXPECT_TRUE(home.store().database().Run("UPDATE session SET session_json = ? WHERE id = ?",
                                          {text, session}));
  EXPECT_TRUE(home.store().EndSession(session, "discomfort"));
  return session;
}

TEST(ClinicPages, AMeasurementGoesToTheClinicAndAPlanComesBack) {
  Home home;
  const Person mira = SomebodyAtHome(home);
  Measured(home, mira.id);
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  const Card clinic_card = clinic.keys.Load().value().identity.card();

  // Home: make a card, add the clinic's, seal.
  window.Show(PageId::kSend);
  Press(window, "make_card");
  Find<QLineEdit>(window, "clinic_name")->setText("Lindenhof");
  Find<QLineEdit>(window, "clinic_card")->setText(QString::fromStdString(ToText(clinic_card)));
  Press(window, "add_clinic");
  const QString sealed = QString::fromStdString(home.folder() / "out.nearpoint");
  static_cast<SendPage*>(window.page())->SealTo(sealed);
  EXPECT_THAT(Said(window).toStdString(), testing::HasSubstr("Sealed for Lindenhof"));

  // Clinic: it waits, is matched to a new person, and shows in the list with its reason.
  window.Show(PageId::kClinicReceive);
  static_cast<ReceivePage*>(window.page())->Take({sealed});
  ASSERT_THAT(Waiting(clinic.store).value(), SizeIs(1));
  Press(window, "match");
  EXPECT_THAT(Waiting(clinic.store).value(), SizeIs(0));
  const auto rows = clinic.store.Patients(OnDay("2026-03-14")).value();
  ASSERT_THAT(rows, SizeIs(1));
  EXPECT_EQ(rows[0].patient.name, "Mira");
  EXPECT_TRUE(rows[0].reasons.Has(Reason::kSymptoms));
  window.Show(PageId::kClinic);
  QTest::keyClick(Find<QListView>(window, "patients"), Qt::Key_Return);
  for (int i = 0; i < 3; ++i) QApplication::processEvents();
  EXPECT_EQ(window.shown(), PageId::kClinicPatient);

  // The measurement: the trace came with it; setting aside asks for a reason and keeps the file.
  Press(window, "newest");
  ASSERT_EQ(window.shown(), PageId::kClinicSession);
  EXPECT_FALSE(clinic.store.Track(clinic.measurement, 2).value().empty());
  Press(window, "set_aside");
  EXPECT_THAT(Said(window).toStdString(), testing::HasSubstr("reason"));
  Find<QLineEdit>(window, "reason")->setText("the head turned away");
  Press(window, "set_aside");
  EXPECT_EQ(clinic.store.FindMeasurement(clinic.measurement)->measurement.digest.used, 1);
  Press(window, "accept");
  EXPECT_EQ(window.shown(), PageId::kClinicPatient);
  EXPECT_TRUE(clinic.store.FindMeasurement(clinic.measurement)->measurement.digest.accepted);

  // A plan for the same device.
  window.Show(PageId::kClinicPlan);
  Find<QLineEdit>(window, "measure_on")->setText("2026-03-28, 2026-04-11");
  Find<QPlainTextEdit>(window, "stop")->setPlainText("It hurts.\n\nDouble vision stays.");
  const QString plan = QString::fromStdString(home.folder() / "plan.nearpoint");
  static_cast<PlanPage*>(window.page())->SealTo(plan);
  EXPECT_THAT(Said(window).toStdString(), testing::HasSubstr("sealed for \"Mira\""));

  // Home sees it first, then uses it.
  home.context().person = mira;
  window.Show(PageId::kPlanFile);
  static_cast<PlanFilePage*>(window.page())->Load(plan);
  EXPECT_EQ(ExerciseStore(home.store()).Plan(mira.id)->source, PlanSource::kCommonPractice);
  Press(window, "use");
  const ExercisePlan used = ExerciseStore(home.store()).Plan(mira.id).value();
  EXPECT_EQ(used.set_by, "A. Optometrist");
  EXPECT_THAT(used.stop_when, testing::ElementsAre("It hurts.", "Double vision stays."));
  EXPECT_THAT(used.measure_on, SizeIs(2));
  EXPECT_EQ(window.shown(), PageId::kDiary);

  // Somebody else of the family cannot take it by mistake.
  Person other;
  other.name = "Deniz";
  home.context().person = home.store().AddPerson(other).value();
  window.Show(PageId::kPlanFile);
  static_cast<PlanFilePage*>(window.page())->Load(plan);
  EXPECT_FALSE(Find<QPushButton>(window, "use")->isEnabled());
}

TEST(ClinicPages, WhatIsChosenIsWhatIsSent) {
  Home home;
  const Person mira = SomebodyAtHome(home);
  const RowId first = Measured(home, mira.id);
  const RowId second = Measured(home, mira.id);
  AddSession(home.store(), mira.id, {ComputedTrial(1, 92, 121)}, /*practice=*/true);
  EXPECT_THAT(SendableSessions(home.store(), mira.id).value(), SizeIs(2));
  const auto one = MakeHomePackage(home.store(), mira, {second}, true);
  ASSERT_TRUE(one);
  EXPECT_THAT(one->package.items, SizeIs(3));  // a session and its two tracks, no diary kept
  const auto both = MakeHomePackage(home.store(), mira, {first, second}, false);
  EXPECT_THAT(both->package.items, SizeIs(6));
  EXPECT_TRUE(both->inside.contains("No pictures and no sound."));
  EXPECT_EQ(MakeHomePackage(home.store(), mira, {}, true).error().code, ErrorCode::kInsufficient);
}

TEST(ClinicPages, DamagedAndForeignFilesAreSaidAndChangeNothing) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  const QString damaged =
      QString::fromStdString(home.folder().Write("damaged.nearpoint", "NPSEALED and no more"));
  window.Show(PageId::kClinicReceive);
  static_cast<ReceivePage*>(window.page())->Take({damaged, "/nowhere/at/all"});
  QString all;
  for (const QLabel* label : window.page()->findChildren<QLabel*>()) all += label->text() + "\n";
  EXPECT_TRUE(all.contains("damaged.nearpoint: ✗"));
  EXPECT_TRUE(all.contains("all: ✗"));
  EXPECT_THAT(Waiting(clinic.store).value(), SizeIs(0));
}

TEST(ClinicPages, WithoutANameNothingIsDecided) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  clinic.patient = AddHistory(clinic, Improving(), 5);
  clinic.measurement = clinic.store.Measurements(clinic.patient)->back().id;
  ASSERT_TRUE(clinic.store.SetSetting("by", ""));
  window.Show(PageId::kClinicSession);
  Press(window, "accept");
  EXPECT_EQ(window.shown(), PageId::kClinicSession);
  EXPECT_THAT(Said(window).toStdString(), testing::HasSubstr("Set up"));
  EXPECT_FALSE(clinic.store.FindMeasurement(clinic.measurement)->measurement.digest.accepted);
}

TEST(ClinicPages, ReturnInTheReasonAcceptsNothingAndInTheListOpensTheChosenOne) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  clinic.patient = AddHistory(clinic, Improving(), 5);
  const auto measurements = clinic.store.Measurements(clinic.patient).value();
  clinic.measurement = measurements.back().id;
  window.Show(PageId::kClinicSession);
  auto* reason = Find<QLineEdit>(window, "reason");
  reason->setFocus();
  QTest::keyClick(reason, Qt::Key_Return);
  for (int i = 0; i < 3; ++i) QApplication::processEvents();
  EXPECT_FALSE(clinic.store.FindMeasurement(clinic.measurement)->measurement.digest.accepted);
  window.Show(PageId::kClinicPatient);
  auto* list = Find<QListWidget>(window, "measurements");
  list->setCurrentRow(2);
  list->setFocus();
  QTest::keyClick(list, Qt::Key_Return);
  for (int i = 0; i < 3; ++i) QApplication::processEvents();
  EXPECT_EQ(window.shown(), PageId::kClinicSession);
  EXPECT_EQ(clinic.measurement, measurements[measurements.size() - 3].id);
}

TEST(ClinicPages, AReportIsOfTheSessionAsReviewed) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  clinic.patient = AddHistory(clinic, Improving(), 5);
  clinic.measurement = clinic.store.Measurements(clinic.patient)->back().id;
  window.Show(PageId::kClinicSession);
  auto* page = static_cast<ClinicSessionPage*>(window.page());
  page->SaveReport(QString::fromStdString(home.folder() / "report.pdf"), Reader::kRecord);
  EXPECT_TRUE(home.folder().Read("report.pdf").starts_with("%PDF"));
  page->SaveFhir(QString::fromStdString(home.folder() / "bundle.json"));
  const std::string bundle = home.folder().Read("bundle.json");
  EXPECT_THAT(bundle, testing::HasSubstr("N-2041"));
  EXPECT_THAT(bundle, testing::Not(testing::HasSubstr("Demir")));
}

TEST(ClinicPages, FindingsAreWeighedWhileTheyAreWritten) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  clinic.patient = AddHistory(clinic, Improving(), 5);
  window.Show(PageId::kClinicFindings);
  EXPECT_EQ(Find<QLineEdit>(window, "field0")->text(), "12");  // born 2014
  const auto all = [&window] {
    QApplication::processEvents();
    QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    QString text;
    for (const QLabel* label : window.page()->findChildren<QLabel*>()) text += label->text() + "\n";
    return text;
  };
  EXPECT_TRUE(all().contains("4 prism dioptres or more: not enough data"));
  Find<QLineEdit>(window, "field1")->setText("8");
  Find<QLineEdit>(window, "field2")->setText("2");
  EXPECT_TRUE(all().contains("4 prism dioptres or more: met"));
  Find<QLineEdit>(window, "field7")->setText("sixteen");
  Press(window, "keep");
  EXPECT_THAT(Said(window).toStdString(), testing::HasSubstr("not a number"));
  Find<QLineEdit>(window, "field7")->setText("20");
  Press(window, "keep");
  EXPECT_EQ(window.shown(), PageId::kClinicPatient);
  EXPECT_EQ(clinic.store.Findings(clinic.patient)->back().values.symptom_score, 20);
}

TEST(ClinicPages, EverythingAboutAPersonGoesOutAndIsDeletedOnRequest) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  clinic.patient = AddHistory(clinic, Improving(), 5);
  window.Show(PageId::kClinicPatient);
  static_cast<PatientPage*>(window.page())->ExportTo(QString::fromStdString(home.folder() / "out"));
  EXPECT_THAT(home.folder().Read("out/patient-1/patient.json"), testing::HasSubstr("Mira Demir"));
  EXPECT_THAT(home.folder().Read("out/patient-1/exercise-days.json"),
              testing::HasSubstr("2026-01-13"));
  Press(window, "delete");
  EXPECT_TRUE(clinic.store.FindPatient(clinic.patient));  // asked first
  Press(window, "delete");
  EXPECT_EQ(window.shown(), PageId::kClinic);
  EXPECT_THAT(clinic.store.Patients(OnDay("2026-03-14")).value(), SizeIs(0));
}

}  // namespace
}  // namespace nearpoint
