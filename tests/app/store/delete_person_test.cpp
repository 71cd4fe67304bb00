#include "app/store/delete_person.h"

#include <gmock/gmock.h>

#include <QTimeZone>
#include <filesystem>
#include <string>

#include "app/store/exercise_store.h"
#include "app/store/eye_picture_store.h"
#include "tests/app/window/stored_session.h"
#include "tests/support/eye_jpeg.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::Not;

class DeletePersonTest : public testing::Test {
 protected:
  Store Open() {
    return Store::Open(QString::fromStdString(folder_ / "a.db"),
                       [] { return QDateTime(QDate(2026, 3, 14), QTime(9, 26), QTimeZone::utc()); })
        .value();
  }
  // Somebody with one of everything that the file can hold of a person.
  RowId Somebody(const QString& name) {
    const RowId id = store_.AddPerson({0, name, 1990}).value().id;
    const RowId session =
        AddSession(store_, id, {ComputedTrial(1, 92, 121), ComputedTrial(2, 95, 124)});
    EXPECT_THAT(store_.AddCalibration(id, "{\"note\": \"" + name.toStdString() + "\"}"), IsOk());
    const EyePictureStore pictures(store_);
    EXPECT_THAT(pictures.SetMayBeKept(id, true), IsOk());
    EXPECT_THAT(pictures.Add(session, {1, EyeMoment::kBreak, EyeJpeg(3)}), IsOk());
    ExerciseStore exercise(store_);
    EXPECT_THAT(exercise.SetPlan(id, CommonPracticePlan()), IsOk());
    ExerciseSetup setup;
    setup.person = id;
    EXPECT_THAT(exercise.Begin(setup), IsOk());
    EXPECT_THAT(store_.SetSetting("person", QString::number(id)), IsOk());
    return id;
  }
  // All that the folder holds: the file, its log, its index.
  [[nodiscard]] std::string AllBytes() const {
    std::string all;
    for (const char* name : {"a.db", "a.db-wal", "a.db-shm"}) {
      if (std::filesystem::exists(folder_.path() / name)) all += folder_.Read(name);
    }
    return all;
  }

  TempFolder folder_;
  Store store_ = Open();
};

TEST_F(DeletePersonTest, SaysWhatThereIs) {
  const auto holdings = HoldingsOf(store_, Somebody("Mira"));
  ASSERT_THAT(holdings, IsOk());
  EXPECT_EQ(holdings->measurements, 1);
  EXPECT_EQ(holdings->trials, 2);
  EXPECT_EQ(holdings->exercises, 1);
  EXPECT_EQ(holdings->plans, 1);
  EXPECT_EQ(holdings->calibrations, 1);
  EXPECT_EQ(holdings->eye_pictures, 1);
}

TEST_F(DeletePersonTest, NoByteIsLeftAndTheOthersKeepWhatIsTheirs) {
  const RowId jo = Somebody("Jonathan-who-stays");
  const RowId mira = Somebody("Mira-who-leaves");
  ASSERT_THAT(AllBytes(), HasSubstr("Mira-who-leaves"));
  ASSERT_THAT(DeletePerson(store_, mira), IsOk());
  EXPECT_THAT(AllBytes(), Not(HasSubstr("Mira-who-leaves")));
  EXPECT_THAT(HoldingsOf(store_, mira), FailsWith(ErrorCode::kNotFound, HasSubstr("not in")));
  EXPECT_FALSE(EyePictureStore(store_).MayBeKept(mira));
  EXPECT_EQ(store_.Setting("person"), QString());
  // No table holds a row that belongs to nobody.
  for (const char* table :
       {"session", "trial", "exercise_session", "exercise_plan", "calibration", "eye_picture"}) {
    auto rows = store_.database().Run(QString("SELECT COUNT(*) FROM %1").arg(table));
    ASSERT_TRUE(rows && rows->next());
    EXPECT_EQ(rows->value(0).toInt(), std::string(table) == "trial" ? 2 : 1) << table;
  }
  const auto holdings = HoldingsOf(store_, jo);
  ASSERT_THAT(holdings, IsOk());
  EXPECT_EQ(holdings->trials, 2);
  EXPECT_EQ(holdings->eye_pictures, 1);
  EXPECT_TRUE(EyePictureStore(store_).MayBeKept(jo));
}

TEST_F(DeletePersonTest, WhoIsNotThereCannotBeDeleted) {
  EXPECT_THAT(DeletePerson(store_, 77), FailsWith(ErrorCode::kNotFound, HasSubstr("not in")));
}

TEST_F(DeletePersonTest, TheServerIsForgottenWithWhatWasLeftThere) {
  ASSERT_THAT(store_.SetSetting("fhir_server", "https://records.example/fhir"), IsOk());
  ASSERT_THAT(store_.SetSetting("left:abc", "2026-03-14"), IsOk());
  ASSERT_THAT(store_.SetSetting("language", "de"), IsOk());
  ASSERT_THAT(ForgetServer(store_), IsOk());
  EXPECT_THAT(AllBytes(), Not(HasSubstr("records.example")));
  EXPECT_EQ(store_.Setting("left:abc"), QString());
  EXPECT_EQ(store_.Setting("language"), "de");
}

}  // namespace
}  // namespace nearpoint
