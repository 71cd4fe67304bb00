#include "app/clinic_store/receive.h"

#include "tests/app/clinic_store/clinic_fixture.h"
#include "tests/support/eye_jpeg.h"

namespace nearpoint {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

class ReceiveTest : public ClinicTest {};

SentSession SentOn(const char* day, double mm) {
  SentSession sent;
  sent.started_at = std::string(day) + "T07:45:00+01:00";
  sent.breaks_mm = {mm - 2, mm, mm + 2};
  return sent;
}

TEST_F(ReceiveTest, AnUnknownSenderWaitsAndIsTakenInOnceMatched) {
  ClinicStore store = Open();
  const Package package = PackageOf({SentOn("2026-03-02", 62), SentOn("2026-03-09", 64)}, "Mira");
  const auto receipt = Receive(store, package);
  ASSERT_THAT(receipt, IsOk());
  EXPECT_EQ(receipt->outcome, Receipt::Outcome::kWaiting);
  EXPECT_EQ(receipt->fingerprint, Fingerprint(home_.card()));
  const auto waiting = Waiting(store).value();
  ASSERT_THAT(waiting, SizeIs(1));
  EXPECT_EQ(waiting[0].said, "Mira");
  EXPECT_FALSE(waiting[0].card_is_known);
  EXPECT_THAT(waiting[0].inside, Contains(HasSubstr("3 trials")));

  Patient patient;
  patient.name = "Mira Demir";
  const RowId mira = store.AddPatient(patient).value().id;
  const auto matched = MatchSender(store, HomeCard(), "Mira", mira, "A. Optometrist");
  ASSERT_THAT(matched, IsOk());
  EXPECT_EQ(matched->new_measurements, 2);
  EXPECT_THAT(Waiting(store).value(), IsEmpty());
  const auto measurements = store.Measurements(mira).value();
  ASSERT_THAT(measurements, SizeIs(2));
  EXPECT_EQ(measurements[0].digest.started_at, "2026-03-02T07:45:00+01:00");
  // Byte for byte what was sent.
  EXPECT_EQ(store.FindMeasurement(measurements[1].id).value().text, package.items[1].content);

  // From now on they go there at once.
  const auto next = Receive(store, PackageOf({SentOn("2026-03-16", 60)}, "Mira", 2));
  EXPECT_EQ(next.value().outcome, Receipt::Outcome::kTaken);
  EXPECT_EQ(next.value().patient, mira);
  EXPECT_THAT(store.Measurements(mira).value(), SizeIs(3));
}

TEST_F(ReceiveTest, ASiblingOnTheSameDeviceWaitsToo) {
  ClinicStore store = Open();
  const RowId mira = Known(store, "Mira", {SentOn("2026-03-02", 62)});
  const auto receipt = Receive(store, PackageOf({SentOn("2026-03-03", 50)}, "Deniz", 2));
  EXPECT_EQ(receipt.value().outcome, Receipt::Outcome::kWaiting);
  EXPECT_TRUE(Waiting(store).value().at(0).card_is_known);
  EXPECT_THAT(store.Measurements(mira).value(), SizeIs(1));
}

TEST_F(ReceiveTest, TheSameAgainChangesNothing) {
  ClinicStore store = Open();
  const RowId mira = Known(store, "Mira", {SentOn("2026-03-02", 62)});
  const Package package = PackageOf({SentOn("2026-03-09", 64)}, "Mira", 2);
  EXPECT_EQ(Receive(store, package).value().new_measurements, 1);
  EXPECT_EQ(Receive(store, package).value().outcome, Receipt::Outcome::kDuplicate);
  // The same session in another package.
  const auto again =
      Receive(store, PackageOf({SentOn("2026-03-09", 64), SentOn("2026-03-16", 63)}, "Mira", 3));
  EXPECT_EQ(again.value().known_measurements, 1);
  EXPECT_EQ(again.value().new_measurements, 1);
  EXPECT_THAT(store.Measurements(mira).value(), SizeIs(3));
}

TEST_F(ReceiveTest, AnotherContentForTheSameMomentIsKeptAndSaid) {
  ClinicStore store = Open();
  const RowId mira = Known(store, "Mira", {SentOn("2026-03-02", 62)});
  const auto receipt = Receive(store, PackageOf({SentOn("2026-03-02", 90)}, "Mira", 2));
  EXPECT_THAT(receipt.value().notes, ElementsAre(HasSubstr("begins at the same moment")));
  EXPECT_THAT(store.Measurements(mira).value(), SizeIs(2));
}

TEST_F(ReceiveTest, TamperedAndForeignFilesLeaveNothingBehind) {
  ClinicStore store = Open();
  Bytes sealed = Sealed(PackageOf({SentOn("2026-03-02", 62)}, "Mira"));
  sealed[sealed.size() / 2] ^= 1;
  EXPECT_THAT(nearpoint::Receive(store, sealed, clinic_),
              FailsWith(ErrorCode::kBadValue, testing::_));
  const Bytes foreign =
      Seal(PackageOf({SentOn("2026-03-02", 62)}, "Mira"), home_, KeysOf(9).card()).value();
  EXPECT_THAT(nearpoint::Receive(store, foreign, clinic_),
              FailsWith(ErrorCode::kMismatch, testing::_));
  EXPECT_THAT(Waiting(store).value(), IsEmpty());
  EXPECT_THAT(ReadJournal(store.database()).value(), IsEmpty());
}

TEST_F(ReceiveTest, TracksAndExerciseDaysFindTheirPlace) {
  ClinicStore store = Open();
  Package package = PackageOf({SentOn("2026-03-02", 62)}, "Mira");
  package.items.push_back({ItemKind::kTrack, TrackName("session-1.json", 2), "{\"t_ms\": 1}\n"});
  std::vector<ExerciseDay> days(2);
  days[0].entry = {ParseDay("2026-03-03").value(), 10, 10, std::nullopt};
  days[1].entry = {ParseDay("2026-03-04").value(), 4, 10, std::nullopt};
  days[1].comfort = "double";
  package.items.push_back({ItemKind::kExerciseDays, "exercise.json", SerializeExerciseDays(days)});
  ASSERT_THAT(Receive(store, package), IsOk());
  Patient patient;
  patient.name = "Mira";
  const RowId mira = store.AddPatient(patient).value().id;
  ASSERT_THAT(MatchSender(store, HomeCard(), "Mira", mira, "A. Optometrist"), IsOk());
  const RowId measurement = store.Measurements(mira).value().at(0).id;
  EXPECT_EQ(store.Track(measurement, 2).value(), "{\"t_ms\": 1}\n");
  EXPECT_EQ(store.Track(measurement, 1).value(), "");
  EXPECT_THAT(store.ExerciseDays(mira).value(), SizeIs(2));
  const auto rows = store.Patients(ClinicTest::On("2026-03-14")).value();
  EXPECT_TRUE(rows.at(0).reasons.Has(Reason::kSymptoms));
}

TEST_F(ReceiveTest, AnItemThatIsNoSessionIsLeftOutAndSaid) {
  ClinicStore store = Open();
  Known(store, "Mira", {SentOn("2026-03-02", 62)});
  Package package = PackageOf({SentOn("2026-03-09", 64)}, "Mira", 2);
  package.items.push_back({ItemKind::kSession, "broken.json", "{"});
  const auto receipt = Receive(store, package);
  EXPECT_EQ(receipt.value().new_measurements, 1);
  EXPECT_THAT(receipt.value().notes, ElementsAre(HasSubstr("broken.json")));
}

TEST_F(ReceiveTest, WhatIsRefusedIsGoneAndDoesNotComeBack) {
  ClinicStore store = Open();
  const Package package = PackageOf({SentOn("2026-03-02", 62)}, "Mira");
  ASSERT_THAT(Receive(store, package), IsOk());
  ASSERT_THAT(RefuseWaiting(store, Waiting(store).value().at(0).id, "A. Optometrist"), IsOk());
  EXPECT_THAT(Waiting(store).value(), IsEmpty());
  EXPECT_EQ(Receive(store, package).value().outcome, Receipt::Outcome::kDuplicate);
  EXPECT_THAT(Waiting(store).value(), IsEmpty());
}

TEST_F(ReceiveTest, PicturesComeWithTheirMeasurementOrLater) {
  ClinicStore store = Open();
  const RowId patient = Known(store, "Mira", {SentSession()});
  const RowId measurement = store.Measurements(patient)->front().id;
  EXPECT_THAT(store.EyePictures(measurement).value(), IsEmpty());
  // The same measurement again, now with pictures.
  Package package = PackageOf({SentSession()}, "Mira", 2);
  const std::string name = package.items[0].name;
  const auto add = [&package](const std::string& of, const std::string& content) {
    package.items.push_back({ItemKind::kPicture, of, content});
  };
  add(PictureName(name, 1, EyeMoment::kBreak), EyeJpeg(4));
  add(PictureName(name, 1, EyeMoment::kRecovery), EyeJpeg(0));
  add(PictureName(name, 2, EyeMoment::kBreak), EyeJpeg(0, 640, 480));  // too large for a strip
  add("holiday.jpg", EyeJpeg(0));
  const auto receipt = Receive(store, package);
  ASSERT_THAT(receipt, IsOk());
  EXPECT_EQ(receipt->known_measurements, 1);
  EXPECT_THAT(receipt->notes, SizeIs(2));
  const auto pictures = store.EyePictures(measurement).value();
  ASSERT_THAT(pictures, SizeIs(2));
  EXPECT_EQ(pictures[0].moment, EyeMoment::kBreak);
  EXPECT_EQ(pictures[0].jpeg, EyeJpeg(4));
  // What came once is not replaced.
  package.id.back() = 77;
  package.items[1].content = EyeJpeg(9);
  ASSERT_THAT(Receive(store, package), IsOk());
  EXPECT_EQ(store.EyePictures(measurement)->front().jpeg, EyeJpeg(4));
}

}  // namespace
}  // namespace nearpoint
