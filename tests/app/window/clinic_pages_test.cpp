#include <gmock/gmock.h>

#include <QCheckBox>
#include <QComboBox>
#include <QDir>
#include <QDropEvent>
#include <QLabel>
#include <QLineEdit>
#include <QListView>
#include <QListWidget>
#include <QMimeData>
#include <QPainter>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTest>
#include <QTimer>
#include <algorithm>
#include <map>
#include <utility>

#include "app/clinic/time_line.h"
#include "app/keyring/keyring.h"
#include "app/records/atomic_file.h"
#include "app/store/exercise_store.h"
#include "app/store/eye_picture_store.h"
#include "app/window/clinic/patient_page.h"
#include "app/window/clinic/plan_page.h"
#include "app/window/clinic/receive_page.h"
#include "app/window/clinic/session_page.h"
#include "app/window/clinic/setup_page.h"
#include "app/window/send/clinic_chooser.h"
#include "app/window/send/plan_file_page.h"
#include "app/window/send/send_page.h"
#include "app/window/session_keeper.h"
#include "tests/app/fhir_push/fhir_server.h"
#include "tests/app/window/clinic_home.h"
#include "tests/app/window/keyring_for_tests.h"
#include "tests/support/eye_jpeg.h"

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
  // Distances nearer than the measured break are said; the clinician decides.
  const auto* nearer = Find<QLabel>(window, "nearer");
  Find<QLineEdit>(window, "levels")->setText("200, 160, 130");
  EXPECT_FALSE(nearer->isVisible());
  Find<QLineEdit>(window, "levels")->setText("200, 130, 80, 60");
  EXPECT_TRUE(nearer->isVisible());
  EXPECT_THAT(nearer->text().toStdString(), testing::HasSubstr("8.0\u00a0cm, 6.0\u00a0cm"));
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
  const auto one = MakeHomePackage(home.store(), mira, {{second}, true});
  ASSERT_TRUE(one);
  EXPECT_THAT(one->package.items, SizeIs(3));  // a session and its two tracks, no diary kept
  const auto both = MakeHomePackage(home.store(), mira, {{first, second}, false});
  EXPECT_THAT(both->package.items, SizeIs(6));
  EXPECT_TRUE(both->inside.contains("No pictures and no sound."));
  EXPECT_EQ(MakeHomePackage(home.store(), mira, {{}, true}).error().code, ErrorCode::kInsufficient);
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

TEST(ClinicPages, ASchoolsCopyAsksForConsentFirst) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  clinic.patient = AddHistory(clinic, Improving(), 5);
  clinic.measurement = clinic.store.Measurements(clinic.patient)->back().id;
  window.Show(PageId::kClinicSession);
  Find<QComboBox>(window, "reader")->setCurrentIndex(2);
  Press(window, "report");  // a file dialog would not come back from here
  EXPECT_THAT(Said(window).toStdString(), testing::HasSubstr("consent"));
}

// Entered after the measurement: 69 mm from the cornea is beyond the limit of adults (63.5 mm) and
// within that of children (73.5 mm). Every place says the same, and what was said on the day stays.
TEST(ClinicPages, AYearOfBirthThatComesLaterIsOneLimitEverywhere) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  History history{"Mira Demir", "N-2041", std::nullopt, {}, {}, false};
  SentSession sent;
  sent.started_at = "2026-03-09T07:50:00+01:00";
  sent.breaks_mm = {69, 69, 69, 69, 69, 69, 69, 69};
  history.sessions.push_back(sent);
  clinic.patient = AddHistory(clinic, history, 5);
  Patient patient = clinic.store.FindPatient(clinic.patient).value();
  const auto digest = [&] { return clinic.store.Measurements(clinic.patient)->back().digest; };
  EXPECT_EQ(digest().answer, Answer::kBeyond);
  EXPECT_FALSE(digest().said);
  patient.birth_year = 2017;
  ASSERT_TRUE(clinic.store.UpdatePatient(patient));
  EXPECT_NEAR(digest().cut_off.mm(), 73.5, 0.01);
  EXPECT_NE(digest().answer, Answer::kBeyond);
  ASSERT_TRUE(digest().said);
  EXPECT_EQ(digest().said->answer, Answer::kBeyond);
  const PatientRow row = clinic.store.Patients(OnDay("2026-03-14")).value().front();
  EXPECT_EQ(row.newest->answer, digest().answer);
  EXPECT_FALSE(row.reasons.Has(Reason::kBeyond));
  std::vector<SessionDigest> all{digest()};
  EXPECT_NEAR(MakeTimeLine(all, 9).cut_off.mm(), 73.5, 0.01);
  EXPECT_EQ(MakeTimeLine(all, 9).points[0].answer, digest().answer);

  clinic.measurement = clinic.store.Measurements(clinic.patient)->back().id;
  window.Show(PageId::kClinicSession);
  QString page;
  for (const QLabel* label : window.page()->findChildren<QLabel*>()) page += label->text() + "\n";
  EXPECT_TRUE(page.contains("On its day it was held against")) << page.toStdString();
  EXPECT_TRUE(page.contains(": within the limit.")) << page.toStdString();
  static_cast<ClinicSessionPage*>(window.page())
      ->SaveFhir(QString::fromStdString(home.folder() / "bundle.json"));
  const std::string bundle = home.folder().Read("bundle.json");
  EXPECT_THAT(bundle, testing::HasSubstr("73.5"));
  EXPECT_THAT(bundle, testing::Not(testing::HasSubstr("beyond the cut-off of")));
  EXPECT_THAT(bundle, testing::HasSubstr("On its day this measurement was held against 63.5 mm"));
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

QString AddressOf(const FhirServerForTests& server) {
  return QString("http://127.0.0.1:%1/fhir").arg(server.serverPort());
}

// Home leaves a sealed file on the server, once; the clinic asks for it there.
TEST(ClinicPages, ASealedFileGoesOverTheServer) {
  FhirServerForTests server;
  KeyringForTests keyring;
  Home home;
  const Person mira = SomebodyAtHome(home);
  Measured(home, mira.id);
  home.context().keyring = &keyring;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  const Card clinic_card = clinic.keys.Load().value().identity.card();
  const KeyStore keys = HomeKeys(home.store());
  ASSERT_TRUE(keys.Create("Mira's laptop"));
  ASSERT_TRUE(keys.AddContact("Lindenhof", clinic_card));
  const QString address = AddressOf(server);
  const auto said = [&window](const char* words) {
    return QTest::qWaitFor([&] { return Said(window).contains(words); }, 10000);
  };

  window.Show(PageId::kSend);
  EXPECT_TRUE(Find<QPushButton>(window, "leave")->isHidden());  // off until an address is entered
  auto* line = Find<QLineEdit>(window, "server");
  line->setText("http://records.example/fhir");
  emit line->editingFinished();
  EXPECT_THAT(Said(window).toStdString(), testing::HasSubstr("https"));
  line->setText(address);
  emit line->editingFinished();
  Find<QLineEdit>(window, "token")->setText("wrong");
  Press(window, "leave");
  EXPECT_TRUE(said("token is not accepted"));
  EXPECT_TRUE(keyring.secrets.empty());
  Find<QLineEdit>(window, "token")->setText("secret");
  Press(window, "leave");
  EXPECT_TRUE(said("left on the server"));
  EXPECT_THAT(server.kept, SizeIs(1));
  EXPECT_EQ(keyring.secrets.size(), 1u);
  const int requests = server.requests;
  Press(window, "leave");
  EXPECT_TRUE(said("already"));
  EXPECT_EQ(server.requests, requests);

  ASSERT_TRUE(clinic.store.SetSetting("fhir_server", address));
  window.Show(PageId::kClinicReceive);
  // From the keyring: nobody types it again.
  EXPECT_TRUE(
      QTest::qWaitFor([&] { return Find<QLineEdit>(window, "token")->text() == "secret"; }, 5000));
  Press(window, "ask");
  EXPECT_TRUE(said("has been asked"));
  EXPECT_THAT(Waiting(clinic.store).value(), SizeIs(1));
  Press(window, "ask");
  EXPECT_TRUE(said("Nothing new"));
  EXPECT_THAT(Waiting(clinic.store).value(), SizeIs(1));
  EXPECT_THAT(server.complaints, testing::IsEmpty());
  // The token is in no file.
  EXPECT_EQ(clinic.store.Setting("token"), "");
  EXPECT_THAT(home.folder().Read("nearpoint.db") + home.folder().Read("clinic.db") +
                  home.folder().Read("nearpoint.db-wal") + home.folder().Read("clinic.db-wal"),
              testing::Not(testing::HasSubstr("secret")));
}

TEST(ClinicPages, AMeasurementGoesToTheRecordServerOnce) {
  FhirServerForTests server;
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  clinic.patient = AddHistory(clinic, Improving(), 5);
  clinic.measurement = clinic.store.Measurements(clinic.patient)->back().id;
  window.Show(PageId::kClinicSession);
  EXPECT_EQ(window.page()->findChild<QPushButton*>("push"), nullptr);  // no server is configured
  ASSERT_TRUE(clinic.store.SetSetting("fhir_server", AddressOf(server)));
  window.Show(PageId::kClinicSession);
  // Without a keyring the page says where the token is: nowhere.
  EXPECT_TRUE(Find<QLabel>(window, "token_place")->text().contains("No keyring"));
  Find<QLineEdit>(window, "token")->setText("secret");
  Press(window, "push");
  const auto said = [&window](const char* words) {
    return QTest::qWaitFor([&] { return Said(window).contains(words); }, 10000);
  };
  EXPECT_TRUE(said("has taken it"));
  EXPECT_THAT(server.kept, SizeIs(4));
  EXPECT_EQ(server.requests, 1);
  Press(window, "push");
  EXPECT_TRUE(said("already"));
  EXPECT_EQ(server.requests, 1);
  // After another step of the review it is another state, and goes there in the place of the first.
  Find<QLineEdit>(window, "reason")->setText("looked at again");
  Press(window, "note");
  Press(window, "push");
  EXPECT_TRUE(said("has taken it"));
  EXPECT_EQ(server.requests, 2);
  EXPECT_THAT(server.kept, SizeIs(4));
  EXPECT_THAT(server.complaints, testing::IsEmpty());
}

TEST(ClinicPages, PicturesGoOnlyWhereTheyAreTicked) {
  Home home;
  const Person mira = SomebodyAtHome(home);
  const RowId session = Measured(home, mira.id);
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  const EyePictureStore pictures(home.store());
  window.Show(PageId::kSend);
  EXPECT_FALSE(Find<QCheckBox>(window, "keep_pictures")->isChecked());
  EXPECT_TRUE(Find<QCheckBox>(window, "pictures")->isHidden());
  Find<QCheckBox>(window, "keep_pictures")->setChecked(true);
  EXPECT_TRUE(pictures.MayBeKept(mira.id));
  ASSERT_TRUE(pictures.Add(session, {1, EyeMoment::kBreak, EyeJpeg(9)}));
  ASSERT_TRUE(pictures.Add(session, {1, EyeMoment::kRecovery, EyeJpeg(0)}));

  window.Show(PageId::kSend);
  const auto inside = [&window] {
    QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    QString text;
    for (const QLabel* label : window.page()->findChildren<QLabel*>()) text += label->text() + "\n";
    return text;
  };
  EXPECT_FALSE(Find<QCheckBox>(window, "pictures")->isChecked());
  EXPECT_TRUE(inside().contains("No pictures and no sound."));
  Find<QCheckBox>(window, "pictures")->setChecked(true);
  EXPECT_TRUE(inside().contains("2 grey pictures of your two eyes"));
  const KeyStore keys = HomeKeys(home.store());
  ASSERT_TRUE(keys.Create("Mira's laptop"));
  ASSERT_TRUE(keys.AddContact("Lindenhof", clinic.keys.Load().value().identity.card()));
  window.Show(PageId::kSend);
  Find<QCheckBox>(window, "pictures")->setChecked(true);
  const QString sealed = QString::fromStdString(home.folder() / "out.nearpoint");
  static_cast<SendPage*>(window.page())->SealTo(sealed);

  window.Show(PageId::kClinicReceive);
  static_cast<ReceivePage*>(window.page())->Take({sealed});
  Press(window, "match");
  clinic.patient = clinic.store.Patients(OnDay("2026-03-14"))->front().patient.id;
  clinic.measurement = clinic.store.Measurements(clinic.patient)->front().id;
  window.Show(PageId::kClinicSession);
  EXPECT_NE(window.page()->findChild<QLabel*>("eyes_break"), nullptr);
  EXPECT_NE(window.page()->findChild<QLabel*>("eyes_recovery"), nullptr);

  window.Show(PageId::kSend);
  Press(window, "delete_pictures");
  EXPECT_EQ(pictures.CountOf(mira.id), 0);
  EXPECT_TRUE(Find<QCheckBox>(window, "pictures")->isHidden());
}

// A trial with a strip each 100 ms, told apart by how far the eye has drifted.
TEST(ClinicPages, PicturesAreOfTheMomentAndNotOfTheKey) {
  Home home;
  const Person mira = SomebodyAtHome(home);
  home.context().person = mira;
  const EyePictureStore pictures(home.store());
  FlowTrial trial;
  trial.trial = ComputedTrial(1, 92, 121).trial;
  ASSERT_TRUE(trial.trial.break_point && trial.trial.recovery);
  trial.trial.break_point->time = FromMilliseconds(2300);
  trial.trial.recovery->time = FromMilliseconds(60000);  // no strip is near it
  LiveFacts facts;
  facts.profile.lag = FromMilliseconds(300);
  const auto keep = [&] {
    SessionKeeper keeper(home.context());
    const MeasureFlow flow(FlowRules(), keeper.options(), keeper.plan(), {trial.trial});
    for (int i = 0; i < 40; ++i) {
      keeper.AddEyeStrip(FromMilliseconds(100.0 * i), EyeJpeg(i % 10, 320, 60 + i));
    }
    EXPECT_TRUE(keeper.Keep(trial, flow, facts));
    return std::exchange(home.context().session, 0);
  };
  EXPECT_EQ(SessionKeeper(home.context()).eye_strips(), EyeStrips::kNone);
  ASSERT_TRUE(pictures.SetMayBeKept(mira.id, true));
  EXPECT_EQ(SessionKeeper(home.context()).eye_strips(), EyeStrips::kWithFrames);
  const auto kept = pictures.Of(keep()).value();
  ASSERT_THAT(kept, SizeIs(1));
  EXPECT_EQ(kept[0].moment, EyeMoment::kBreak);
  EXPECT_EQ(kept[0].jpeg, EyeJpeg(0, 320, 80));  // of 2.0 s
  // Of a simulated person, nothing.
  home.context().practice = true;
  EXPECT_EQ(SessionKeeper(home.context()).eye_strips(), EyeStrips::kNone);
}

TEST(ClinicPages, ACardIsReadFromItsQrCode) {
  Home home;
  SomebodyAtHome(home);
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  // What the clinic shows ...
  window.Show(PageId::kClinicSetup);
  const QImage code = Find<QLabel>(window, "own_qr")->pixmap().toImage();
  ASSERT_FALSE(code.isNull());
  const QString file = QString::fromStdString(home.folder() / "card.png");
  ASSERT_TRUE(code.save(file));
  // ... is read at home: from a picture, and by the camera, whose preview is mirrored.
  const QString text = QString::fromStdString(ToText(clinic.keys.Load().value().identity.card()));
  window.Show(PageId::kSend);
  auto* chooser = Find<ClinicChooser>(window, "chooser");
  chooser->ReadPicture(file);
  EXPECT_EQ(Find<QLineEdit>(window, "clinic_card")->text(), text);
  Find<QLineEdit>(window, "clinic_card")->clear();
  QImage seen(640, 360, QImage::Format_RGB888);
  seen.fill(Qt::gray);
  QPainter(&seen).drawImage(QPoint(200, 60), code.scaledToWidth(230, Qt::SmoothTransformation));
  chooser->Look(seen.mirrored(true, false));
  EXPECT_EQ(Find<QLineEdit>(window, "clinic_card")->text(), text);
  Find<QLineEdit>(window, "clinic_name")->setText("Lindenhof");
  Press(window, "add_clinic");
  EXPECT_EQ(chooser->name(), "Lindenhof");
  chooser->ReadPicture("/nowhere.png");
  EXPECT_TRUE(Said(window).contains("cannot be read"));
}

TEST(ClinicPages, TheWatchedFolderIsLookedIntoOnceAFile) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  const QString folder = QString::fromStdString(home.folder() / "inbox");
  ASSERT_TRUE(QDir().mkpath(folder));
  ASSERT_TRUE(clinic.store.SetSetting("watched_folder", folder));
  window.Show(PageId::kClinicReceive);
  const Package package = PackageOf({SentSession()}, "Mira", 1);
  const auto sealed =
      Seal(package, KeysNumber(9), clinic.keys.Load().value().identity.card()).value();
  ASSERT_TRUE(WriteFileAtomically((folder + "/new.nearpoint").toStdString(), TextOf(sealed)));
  EXPECT_TRUE(QTest::qWaitFor([&] { return Waiting(clinic.store)->size() == 1; }, 10000));
  window.Show(PageId::kClinicReceive);
  for (const QLabel* label : window.page()->findChildren<QLabel*>()) {
    EXPECT_FALSE(label->text().contains("new.nearpoint")) << label->text().toStdString();
  }
}

TEST(ClinicPages, DroppedFilesAreTaken) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  const auto sealed = Seal(PackageOf({SentSession()}, "Mira", 1), KeysNumber(9),
                           clinic.keys.Load().value().identity.card());
  const std::string file = home.folder().Write("dropped.nearpoint", TextOf(*sealed));
  window.Show(PageId::kClinicReceive);
  QMimeData data;
  data.setUrls({QUrl::fromLocalFile(QString::fromStdString(file))});
  QDragEnterEvent enter(QPoint(10, 10), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
  QApplication::sendEvent(window.page(), &enter);
  EXPECT_TRUE(enter.isAccepted());
  QDropEvent drop(QPointF(10, 10), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
  QApplication::sendEvent(window.page(), &drop);
  EXPECT_TRUE(drop.isAccepted());
  EXPECT_THAT(Waiting(clinic.store).value(), SizeIs(1));
}

TEST(ClinicPages, TablesForResearchNameNobody) {
  Home home;
  MainWindow& window = home.Open();
  Clinic& clinic = OpenedClinic(home);
  const QString folder = QString::fromStdString(home.folder().path());
  window.Show(PageId::kClinicSetup);
  static_cast<ClinicSetupPage*>(window.page())->ExportTo(folder);
  EXPECT_TRUE(Said(window).contains("Nothing was measured"));
  AddHistory(clinic, Improving(), 5);
  static_cast<ClinicSetupPage*>(window.page())->ExportTo(folder);
  EXPECT_TRUE(Said(window).contains("dictionary.csv"));
  const std::string sessions = home.folder().Read("sessions.csv");
  EXPECT_EQ(std::ranges::count(sessions, '\n'), 8);
  EXPECT_THAT(sessions, testing::Not(testing::HasSubstr("Demir")));
}

}  // namespace
}  // namespace nearpoint
