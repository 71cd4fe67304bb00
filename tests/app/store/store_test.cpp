#include "app/store/store.h"

#include <gmock/gmock.h>

#include <QCoreApplication>
#include <QFile>
#include <QTimeZone>
#include <thread>

#include "app/records/trial_json.h"
#include "app/store/migrations.h"
#include "tests/app/window/stored_session.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::SizeIs;

class StoreTest : public testing::Test {
 protected:
  [[nodiscard]] QString File() const { return QString::fromStdString(folder_ / "a.db"); }
  [[nodiscard]] Store Open() {
    return Store::Open(File(), [this] { return now_; }).value();
  }

  TempFolder folder_;
  QDateTime now_{QDate(2026, 3, 14), QTime(9, 26), QTimeZone::utc()};
};

RowId Somebody(Store& store) {
  Person person;
  person.name = "Mira Ünal 'x'; DROP TABLE person";
  person.birth_year = 2016;
  return store.AddPerson(person).value().id;
}

TEST_F(StoreTest, RemembersAPersonAcrossStarts) {
  RowId id = 0;
  {
    Store store = Open();
    id = Somebody(store);
  }
  Store store = Open();
  const auto person = store.FindPerson(id);
  ASSERT_TRUE(person);
  EXPECT_EQ(person->name, "Mira Ünal 'x'; DROP TABLE person");
  EXPECT_EQ(person->birth_year, 2016);
}

TEST_F(StoreTest, GivesATrialBackAsItWas) {
  Store store = Open();
  const RowId person = Somebody(store);
  const StoredTrial put = ComputedTrial(1, 92.25, 121.5);
  const RowId session = AddSession(store, person, {put});
  const auto got = store.Trials(session);
  ASSERT_TRUE(got);
  ASSERT_THAT(*got, SizeIs(1));
  EXPECT_EQ(TrialToText(got->front().trial), TrialToText(put.trial));
  EXPECT_EQ(got->front().track_jsonl, put.track_jsonl);
  ASSERT_THAT(got->front().events, SizeIs(put.events.size()));
  const auto shared = store.SharedOfSession(session);
  ASSERT_TRUE(shared);
  EXPECT_DOUBLE_EQ(shared->relative_sd, 0.02);
  EXPECT_DOUBLE_EQ(shared->offset_sd.mm(), 1.5);
}

TEST(TrialTextTest, KeepsEveryReasonAndCensoring) {
  for (const SetAside reason : {SetAside::kTooFast, SetAside::kTrackingLost, SetAside::kNoApproach,
                                SetAside::kResponseEarly, SetAside::kNoResponse,
                                SetAside::kNotLooking, SetAside::kOneEyeCovered}) {
    Trial trial;
    trial.number = 3;
    trial.set_aside = reason;
    const auto back = TrialFromText(TrialToText(trial), "here");
    ASSERT_TRUE(back);
    EXPECT_EQ(back->set_aside, reason);
    EXPECT_FALSE(back->break_point);
  }
  for (const Censoring censoring : {Censoring::kNone, Censoring::kBelow, Censoring::kAbove}) {
    Trial trial;
    trial.number = 1;
    trial.censored = censoring;
    trial.limit = Length::Millimeters(47);
    const auto back = TrialFromText(TrialToText(trial), "here");
    ASSERT_TRUE(back);
    EXPECT_EQ(back->censored, censoring);
    EXPECT_DOUBLE_EQ(back->limit->mm(), 47);
  }
}

TEST(TrialTextTest, NamesWhatIsWrong) {
  const auto bad = TrialFromText(R"({"number": "three"})", "session 1, trial 3");
  ASSERT_FALSE(bad);
  EXPECT_THAT(bad.error().message, HasSubstr("session 1, trial 3"));
  EXPECT_THAT(bad.error().message, HasSubstr("number"));
}

TEST_F(StoreTest, RefusesASecondTrialOfTheSameNumberAndKeepsTheFirst) {
  Store store = Open();
  Store other = Open();
  const RowId session = AddSession(store, Somebody(store), {ComputedTrial(1, 92, 121)});
  EXPECT_FALSE(other.AddTrial(session, ComputedTrial(1, 50, 60), {}, "other"));
  const auto trials = store.Trials(session);
  ASSERT_TRUE(trials);
  ASSERT_THAT(*trials, SizeIs(1));
  EXPECT_DOUBLE_EQ(trials->front().trial.break_point->value.value.mm(), 92);
  // All or nothing: the session's document is as it was, too.
  EXPECT_EQ(store.FindSession(session)->session_json, "{}\n");
}

// Two instances, each with its own connection and thread, write at the same time.
TEST_F(StoreTest, TwoInstancesLoseNothing) {
  Store store = Open();
  const RowId person = Somebody(store);
  const RowId a = AddSession(store, person, {});
  const RowId b = AddSession(store, person, {});
  const StoredTrial trial = ComputedTrial(1, 92, 121);
  const auto write = [&](RowId session, int& failed) {
    Store own = Store::Open(File()).value();
    for (int number = 1; number <= 25; ++number) {
      StoredTrial next = trial;
      next.trial.number = number;
      if (!own.AddTrial(session, next, {}, "{}")) ++failed;
    }
  };
  int failed_a = 0;
  int failed_b = 0;
  {
    std::jthread first([&] { write(a, failed_a); });
    std::jthread second([&] { write(b, failed_b); });
  }
  EXPECT_EQ(failed_a + failed_b, 0);
  EXPECT_EQ(store.Trials(a)->size(), 25u);
  EXPECT_EQ(store.Trials(b)->size(), 25u);
  auto check = store.database().Run("PRAGMA integrity_check");
  ASSERT_TRUE(check && check->next());
  EXPECT_EQ(check->value(0).toString(), "ok");
}

TEST_F(StoreTest, OffersToGoOnOnlyWithWhatIsFreshAndUnended) {
  Store store = Open();
  const RowId person = Somebody(store);
  EXPECT_FALSE(*store.Unfinished(person));
  AddSession(store, person, {});  // no trial yet: nothing to save
  EXPECT_FALSE(*store.Unfinished(person));
  const RowId session = AddSession(store, person, {ComputedTrial(1, 92, 121)});
  ASSERT_TRUE(*store.Unfinished(person));
  EXPECT_EQ((*store.Unfinished(person))->id, session);
  now_ = now_.addSecs(2 * 3600);
  EXPECT_FALSE(*store.Unfinished(person));
  now_ = now_.addSecs(-2 * 3600);
  ASSERT_TRUE(store.EndSession(session, "fine"));
  EXPECT_FALSE(*store.Unfinished(person));
}

TEST_F(StoreTest, ASessionMayBelongToNobody) {
  Store store = Open();
  const RowId session = AddSession(store, 0, {ComputedTrial(1, 92, 121)}, true);
  const auto sessions = store.Sessions(0);
  ASSERT_TRUE(sessions);
  ASSERT_THAT(*sessions, SizeIs(1));
  EXPECT_EQ(sessions->front().id, session);
  EXPECT_TRUE(sessions->front().setup.practice);
}

TEST_F(StoreTest, GivesTheNewestCalibration) {
  Store store = Open();
  const RowId person = Somebody(store);
  EXPECT_FALSE(*store.LatestCalibration(person));
  ASSERT_TRUE(store.AddCalibration(person, "old"));
  ASSERT_TRUE(store.AddCalibration(person, "new"));
  EXPECT_EQ((*store.LatestCalibration(person))->profile_json, "new");
}

// A file of the first version, as an older program left it, opens with everything in it.
TEST_F(StoreTest, BringsAnOlderFileUpToDate) {
  {
    QSqlDatabase old = QSqlDatabase::addDatabase("QSQLITE", "old");
    old.setDatabaseName(File());
    ASSERT_TRUE(old.open());
    QSqlQuery query(old);
    for (const std::string_view statement : AllMigrations().front().statements) {
      ASSERT_TRUE(query.exec(QString::fromUtf8(statement.data(), qsizetype(statement.size()))));
    }
    ASSERT_TRUE(query.exec("INSERT INTO person (name, created_at) VALUES ('Mira', '2025')"));
    ASSERT_TRUE(query.exec("PRAGMA user_version = 1"));
    query.finish();
    old.close();
  }
  QSqlDatabase::removeDatabase("old");
  Store store = Open();
  EXPECT_EQ(store.People()->front().name, "Mira");
  auto version = store.database().Run("PRAGMA user_version");
  ASSERT_TRUE(version && version->next());
  EXPECT_EQ(version->value(0).toInt(), static_cast<int>(AllMigrations().size()));
}

TEST_F(StoreTest, RefusesAFileOfANewerProgram) {
  {
    Store store = Open();
    ASSERT_TRUE(store.database().Run("PRAGMA user_version = 999"));
  }
  const auto store = Store::Open(File());
  ASSERT_FALSE(store);
  EXPECT_EQ(store.error().code, ErrorCode::kMismatch);
  EXPECT_THAT(store.error().message, HasSubstr("newer version"));
}

TEST_F(StoreTest, RefusesWhatIsNoStoreAndLeavesItAlone) {
  const std::string text(5000, 'x');
  folder_.Write("a.db", text);
  const auto store = Store::Open(File());
  ASSERT_FALSE(store);
  EXPECT_EQ(store.error().code, ErrorCode::kUnreadable);
  EXPECT_THAT(store.error().message, HasSubstr("a.db"));
  EXPECT_EQ(folder_.Read("a.db"), text);
}

TEST_F(StoreTest, SaysWhereItCannotWrite) {
  folder_.Write("file", "");
  const auto store = Store::Open(QString::fromStdString(folder_ / "file/a.db"));
  ASSERT_FALSE(store);
  EXPECT_EQ(store.error().code, ErrorCode::kNotWritable);
}

TEST_F(StoreTest, IsReadableByItsOwnerAlone) {
  const QString file = QString::fromStdString(folder_ / "own/a.db");
  const auto store = Store::Open(file);
  ASSERT_TRUE(store);
  const auto others = QFile::ReadGroup | QFile::ReadOther | QFile::WriteGroup | QFile::WriteOther;
  EXPECT_FALSE(QFile::permissions(file).testAnyFlags(others));
  EXPECT_FALSE(QFile::permissions(QString::fromStdString(folder_ / "own")).testAnyFlags(others));
}

}  // namespace
}  // namespace nearpoint
