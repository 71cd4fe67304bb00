#include "app/clinic_store/person_file.h"

#include <filesystem>

#include "tests/app/clinic_store/clinic_fixture.h"
#include "tests/support/eye_jpeg.h"

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

class PersonFileTest : public ClinicTest {
 protected:
  // Every byte of everything that lies in the folder of the clinic.
  [[nodiscard]] std::string AllBytes() const {
    std::string all;
    for (const auto& entry : std::filesystem::directory_iterator(folder_.path())) {
      all += folder_.Read(entry.path().filename().string());
    }
    return all;
  }
};

// The measurement of SentSession() once more, now with a picture of the eyes.
Package WithPicture(const char* name) {
  Package package = PackageOf({SentSession()}, name, 9);
  package.items.push_back(
      {ItemKind::kPicture, PictureName(package.items[0].name, 1, EyeMoment::kBreak), EyeJpeg(4)});
  return package;
}

constexpr const char* kName = "Zeynep-Kaarina";
constexpr const char* kWords = "tends to skip lines in the evening";

RowId FillIn(ClinicStore& store, RowId patient) {
  ContextValues values;
  values.age_years = 30;
  EXPECT_THAT(store.AddFinding(patient, "A. Optometrist", values, kWords), IsOk());
  ExercisePlan plan = CommonPracticePlan();
  plan.note = "Rest on Sundays, Zeynep-Kaarina.";
  EXPECT_THAT(store.AddPlan(patient, "A. Optometrist", plan), IsOk());
  const RowId measurement = store.Measurements(patient).value().at(0).id;
  EXPECT_THAT(store.Review(measurement, {"2026-03-14T09:26:00Z", "A. Optometrist", ReviewAct::kNote,
                                         std::nullopt, kWords}),
              IsOk());
  return measurement;
}

TEST_F(PersonFileTest, WhatIsDeletedIsNotInTheBytesAnyMore) {
  ClinicStore store = Open();
  const RowId patient = Known(store, kName, {SentSession()});
  ASSERT_THAT(Receive(store, WithPicture(kName)), IsOk());
  const std::string jpeg = EyeJpeg(4).substr(500, 64);
  home_ = KeysOf(3);
  const RowId other = Known(store, "Somebody Else", {SentSession()}, 7);
  FillIn(store, patient);
  const QByteArray shrunk = Shrink(SessionText(SentSession()));
  const QString card = QString::fromStdString(ToText(KeysOf(2).card()));
  // It is really there before: else the search would prove nothing.
  ASSERT_THAT(AllBytes(), HasSubstr(kName));
  ASSERT_THAT(AllBytes(), HasSubstr(kWords));
  ASSERT_THAT(AllBytes(), HasSubstr(jpeg));
  ASSERT_THAT(AllBytes(), HasSubstr(card.toStdString()));
  ASSERT_THAT(DeletePatient(store, patient, "A. Optometrist"), IsOk());
  EXPECT_THAT(AllBytes(), Not(HasSubstr(kName)));
  EXPECT_THAT(AllBytes(), Not(HasSubstr(kWords)));
  EXPECT_THAT(AllBytes(), Not(HasSubstr(jpeg)));
  EXPECT_THAT(AllBytes(), Not(HasSubstr(card.toStdString())));
  EXPECT_THAT(store.FindPatient(patient), FailsWith(ErrorCode::kNotFound, testing::_));
  EXPECT_THAT(store.Measurements(patient).value(), IsEmpty());
  // The others are as they were, and the journal is whole.
  EXPECT_THAT(AllBytes(), HasSubstr("Somebody Else"));
  EXPECT_EQ(store.Measurements(other).value().size(), 1U);
  const auto journal = ReadJournal(store.database()).value();
  EXPECT_EQ(journal.back().act, "deleted");
  EXPECT_EQ(journal.back().patient, patient);
  // Nobody gets the number of somebody who is gone.
  Patient next;
  next.name = "New";
  EXPECT_GT(store.AddPatient(next).value().id, std::max(patient, other));
}

TEST_F(PersonFileTest, DeletingNobodyIsSaid) {
  ClinicStore store = Open();
  EXPECT_THAT(DeletePatient(store, 5, "A. Optometrist"),
              FailsWith(ErrorCode::kNotFound, testing::_));
  EXPECT_THAT(ReadJournal(store.database()).value(), IsEmpty());
}

TEST_F(PersonFileTest, ExportHoldsEverythingOfThatPersonAndNothingOfOthers) {
  ClinicStore store = Open();
  const RowId patient = Known(store, kName, {SentSession()});
  ASSERT_THAT(Receive(store, WithPicture(kName)), IsOk());
  home_ = KeysOf(3);
  Known(store, "Somebody Else", {SentSession()}, 7);
  const RowId measurement = FillIn(store, patient);
  const auto files = ExportPatient(store, patient, "A. Optometrist");
  ASSERT_THAT(files, IsOk());
  const std::string stem = "measurement-" + std::to_string(measurement);
  std::vector<std::string> names;
  std::string all;
  for (const ExportedFile& file : *files) {
    names.push_back(file.name);
    all += file.content;
  }
  EXPECT_THAT(names, ElementsAre("patient.json", stem + ".json", stem + ".review.jsonl",
                                 stem + ".trial-1.break.jpg"));
  EXPECT_EQ((*files)[1].content, SessionText(SentSession()));
  EXPECT_THAT(all, HasSubstr(kName));
  EXPECT_THAT(all, HasSubstr(kWords));
  EXPECT_THAT(all, HasSubstr("Rest on Sundays"));
  EXPECT_THAT(all, HasSubstr("\"exported\""));
  EXPECT_THAT(all, Not(HasSubstr("Somebody Else")));
}

TEST_F(PersonFileTest, RetentionCountsFromTheNewestMeasurement) {
  ClinicStore store = Open();
  SentSession old;
  old.started_at = "2024-03-01T08:00:00+01:00";
  const RowId gone = Known(store, "Long ago", {old});
  home_ = KeysOf(3);
  Known(store, "Lately", {old, SentSession()}, 7);
  Patient nobody;
  nobody.name = "Never sent";
  ASSERT_THAT(store.AddPatient(nobody), IsOk());
  std::vector<RowId> ids;
  const auto past = PastRetention(store, 24).value();
  ids.reserve(past.size());
  for (const Patient& patient : past) ids.push_back(patient.id);
  EXPECT_THAT(ids, ElementsAre(gone));
  EXPECT_THAT(PastRetention(store, 25).value(), IsEmpty());
}

}  // namespace
}  // namespace nearpoint
