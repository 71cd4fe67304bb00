#include "app/clinic_store/clinic_store.h"

#include <QFile>

#include "app/store/store.h"
#include "tests/app/clinic_store/clinic_fixture.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

class ClinicStoreTest : public ClinicTest {
 protected:
  [[nodiscard]] static AuditEntry Entry(ReviewAct act, std::optional<int> trial = std::nullopt) {
    return {"2026-03-14T09:26:00Z", "A. Optometrist", act, trial,
            act == ReviewAct::kAccept ? "" : "the trace breaks off"};
  }
};

SentSession Of(double mm) {
  SentSession sent;
  sent.breaks_mm = {mm - 2, mm, mm + 2, mm + 60};
  return sent;
}

TEST_F(ClinicStoreTest, TheFileIsForItsUserAlone) {
  const ClinicStore store = Open();
  const auto others = QFile::ReadGroup | QFile::ReadOther | QFile::WriteGroup | QFile::WriteOther;
  EXPECT_FALSE(QFile::permissions(File()) & others);
}

TEST_F(ClinicStoreTest, AHomeFileIsRefused) {
  { ASSERT_TRUE(Store::Open(File())); }
  EXPECT_THAT(ClinicStore::Open(File()), FailsWith(ErrorCode::kMismatch, testing::_));
}

TEST_F(ClinicStoreTest, AReviewChangesTheEstimateAndKeepsTheMeasurement) {
  ClinicStore store = Open();
  const RowId mira = Known(store, "Mira", {Of(62)});
  const KeptMeasurement before = store.Measurements(mira).value().at(0);
  const std::string text = store.FindMeasurement(before.id).value().text;
  ASSERT_THAT(store.Review(before.id, Entry(ReviewAct::kSetAside, 4)), IsOk());
  const KeptMeasurement after = store.Measurements(mira).value().at(0);
  EXPECT_LT(*after.digest.break_mm->value, *before.digest.break_mm->value - 5);
  EXPECT_TRUE(after.digest.changed);
  const auto file = store.FindMeasurement(before.id).value();
  EXPECT_EQ(file.text, text);
  EXPECT_THAT(file.review.entries(), SizeIs(1));
  ASSERT_THAT(store.Review(before.id, Entry(ReviewAct::kAccept)), IsOk());
  EXPECT_THAT(store.Patients(On("2026-03-14")).value().at(0).reasons.List(), IsEmpty());
  // A step that cannot be is not written.
  EXPECT_FALSE(store.Review(before.id, Entry(ReviewAct::kSetAside, 9)));
  EXPECT_THAT(store.FindMeasurement(before.id).value().review.entries(), SizeIs(2));
}

TEST_F(ClinicStoreTest, WhatAServerTookIsNotSentAgainUntilTheReviewGoesOn) {
  ClinicStore store = Open();
  const RowId mira = Known(store, "Mira", {Of(62)});
  const RowId id = store.Measurements(mira).value().at(0).id;
  const auto file = store.FindMeasurement(id).value();
  EXPECT_FALSE(store.WasPushed(file, "records.example").value());
  ASSERT_THAT(store.MarkPushed(file, "records.example", "A. Optometrist"), IsOk());
  EXPECT_TRUE(store.WasPushed(file, "records.example").value());
  EXPECT_FALSE(store.WasPushed(file, "other.example").value());
  ASSERT_THAT(store.Review(id, Entry(ReviewAct::kAccept)), IsOk());
  EXPECT_FALSE(store.WasPushed(store.FindMeasurement(id).value(), "records.example").value());
}

TEST_F(ClinicStoreTest, AReviewThatWasEditedFromOutsideIsRefused) {
  ClinicStore store = Open();
  const RowId mira = Known(store, "Mira", {Of(62)});
  const RowId id = store.Measurements(mira).value().at(0).id;
  ASSERT_THAT(store.Review(id, Entry(ReviewAct::kSetAside, 4)), IsOk());
  ASSERT_TRUE(store.database().Run(
      "UPDATE measurement SET review = replace(review, 'the trace', 'no trace')"));
  EXPECT_THAT(store.FindMeasurement(id), FailsWith(ErrorCode::kBadValue, HasSubstr("chain")));
}

TEST_F(ClinicStoreTest, AMeasurementThatWasEditedFromOutsideIsRefused) {
  ClinicStore store = Open();
  const RowId mira = Known(store, "Mira", {Of(62)});
  const RowId id = store.Measurements(mira).value().at(0).id;
  ASSERT_TRUE(
      store.database().Run("UPDATE measurement SET text_z = ?", {Shrink(SessionText(Of(40)))}));
  EXPECT_THAT(store.FindMeasurement(id), FailsWith(ErrorCode::kBadValue, HasSubstr("received")));
}

TEST_F(ClinicStoreTest, TheJournalShowsWhatWasChangedInIt) {
  ClinicStore store = Open();
  const RowId mira = Known(store, "Mira", {Of(62)});
  ASSERT_THAT(store.Review(store.Measurements(mira).value().at(0).id, Entry(ReviewAct::kAccept)),
              IsOk());
  const auto journal = ReadJournal(store.database()).value();
  ASSERT_THAT(journal, SizeIs(4));  // added, waiting, matched, reviewed
  EXPECT_EQ(journal[3].act, "reviewed");
  EXPECT_EQ(journal[3].by, "A. Optometrist");
  ASSERT_TRUE(store.database().Run("UPDATE journal SET by = 'Somebody' WHERE number = 3"));
  EXPECT_THAT(ReadJournal(store.database()), FailsWith(ErrorCode::kBadValue, HasSubstr("entry 3")));
  ASSERT_TRUE(store.database().Run("UPDATE journal SET by = 'A. Optometrist' WHERE number = 3"));
  EXPECT_THAT(ReadJournal(store.database()), IsOk());
  ASSERT_TRUE(store.database().Run("DELETE FROM journal WHERE number = 2"));
  EXPECT_THAT(ReadJournal(store.database()), FailsWith(ErrorCode::kBadValue, HasSubstr("entry 2")));
}

TEST_F(ClinicStoreTest, WhoNeedsALookComesFirst) {
  ClinicStore store = Open();
  const auto add = [&](const char* name, double mm, const char* comfort, std::uint8_t number) {
    SentSession sent;
    sent.breaks_mm = {mm - 1, mm, mm + 1};
    sent.comfort = comfort;
    home_ = KeysOf(number);
    return Known(store, name, {sent}, number);
  };
  add("Quiet", 45, "fine", 11);
  add("Beyond", 95, "fine", 12);
  add("Double", 45, "double", 13);
  add("Another quiet", 44, "fine", 14);
  std::vector<QString> names;
  const auto rows = store.Patients(On("2026-03-14")).value();
  names.reserve(rows.size());
  for (const PatientRow& row : rows) {
    names.push_back(row.patient.name);
  }
  EXPECT_EQ(names, (std::vector<QString>{"Double", "Beyond", "Another quiet", "Quiet"}));
}

TEST_F(ClinicStoreTest, FindingsAndPlansAreKeptInOrder) {
  ClinicStore store = Open();
  const RowId mira = Known(store, "Mira", {Of(62)});
  ContextValues values;
  values.age_years = 30;
  values.symptom_score = 25;
  ASSERT_THAT(store.AddFinding(mira, "A. Optometrist", values, "reads slowly"), IsOk());
  EXPECT_TRUE(store.Patients(On("2026-03-14")).value().at(0).reasons.Has(Reason::kSymptoms));
  ASSERT_THAT(store.MarkSeen(mira, "A. Optometrist", On("2026-03-14")), IsOk());
  EXPECT_FALSE(store.Patients(On("2026-03-14")).value().at(0).reasons.Has(Reason::kSymptoms));
  values.symptom_score = 61;
  EXPECT_THAT(store.AddFinding(mira, "A. Optometrist", values, ""),
              FailsWith(ErrorCode::kBadValue, HasSubstr("symptom score")));
  values.symptom_score = 10;
  EXPECT_FALSE(store.AddFinding(mira, " ", values, ""));
  const auto findings = store.Findings(mira).value();
  ASSERT_THAT(findings, SizeIs(1));
  EXPECT_EQ(findings[0].values.symptom_score, 25);
  EXPECT_EQ(findings[0].words, "reads slowly");

  ExercisePlan plan = CommonPracticePlan();
  plan.source = PlanSource::kClinician;
  plan.set_by = "A. Optometrist";
  plan.stop_when = {"Double vision stays after stopping."};
  plan.measure_on = {On("2026-03-15")};
  ASSERT_THAT(store.AddPlan(mira, "A. Optometrist", plan), IsOk());
  plan.levels.clear();
  EXPECT_THAT(store.AddPlan(mira, "A. Optometrist", plan),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("The plan"), HasSubstr("levels"))));
  const auto plans = store.Plans(mira).value();
  ASSERT_THAT(plans, SizeIs(1));
  EXPECT_EQ(plans[0].plan.measure_on, std::vector<Day>{On("2026-03-15")});
  EXPECT_TRUE(store.Patients(On("2026-03-16")).value().at(0).reasons.Has(Reason::kMeasureDue));
}

TEST_F(ClinicStoreTest, APatientNeedsAName) {
  ClinicStore store = Open();
  EXPECT_THAT(store.AddPatient({}), FailsWith(ErrorCode::kBadValue, HasSubstr("name")));
}

}  // namespace
}  // namespace nearpoint
