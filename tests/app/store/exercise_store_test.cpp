#include "app/store/exercise_store.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QCoreApplication>

#include "app/records/exercise_plan_json.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

Length Mm(double mm) { return Length::Millimeters(mm); }

class ExerciseStoreTest : public ::testing::Test {
 protected:
  ExerciseStoreTest() {
    static int argc = 1;
    static char name[] = "test";
    static char* argv[] = {name, nullptr};
    if (QCoreApplication::instance() == nullptr) {
      static QCoreApplication application(argc, argv);
    }
    Open();
    Person person;
    person.name = "A";
    person_ = store_->AddPerson(person).value().id;
  }
  void Open() {
    store_.reset();
    auto store = Store::Open(QString::fromStdString(folder_ / "home.db"));
    ASSERT_THAT(store, IsOk());
    store_.emplace(*std::move(store));
  }
  ExerciseSetup Setup(bool practice = false) {
    ExerciseSetup setup;
    setup.person = person_;
    setup.practice = practice;
    setup.day = ParseDay("2026-08-03").value();
    setup.plan = CommonPracticePlan();
    setup.level = 2;
    setup.view = {{Mm(58), Mm(1.5)}, {Mm(513), Mm(6)}};
    setup.mm_per_dot = 0.18;
    return setup;
  }
  static Attempt Tried(int number, std::optional<NotCounted> why) {
    Attempt a;
    a.number = number;
    a.start = FromMilliseconds(1000.5 * number);
    a.end = FromMilliseconds(9000.25 * number);
    a.separation = Mm(112.5);
    a.asked = Mm(160);
    a.why = why;
    a.held_s = why ? 1.25 : 5.02;
    a.fusing_s = 2.5;
    a.reach = UncertainLength{Mm(157.25), Mm(4.5)};
    a.reach_shared_sd = Mm(5.5);
    if (why == NotCounted::kOneEyeStayed) a.eye = DriftingEye::kRight;
    return a;
  }

  TempFolder folder_;
  std::optional<Store> store_;
  RowId person_ = 0;
};

TEST_F(ExerciseStoreTest, AttemptsReadBackAsTheyWere) {
  ExerciseStore exercises(*store_);
  const RowId id = exercises.Begin(Setup()).value();
  const std::vector<Attempt> attempts = {Tried(1, std::nullopt),
                                         Tried(2, NotCounted::kOneEyeStayed),
                                         Tried(3, NotCounted::kOnlyHandMoved)};
  for (const Attempt& a : attempts) ASSERT_THAT(exercises.AddAttempt(id, a), IsOk());
  Attempt bare;
  bare.number = 4;
  bare.why = NotCounted::kNotSeen;
  ASSERT_THAT(exercises.AddAttempt(id, bare), IsOk());
  ASSERT_THAT(exercises.End(id, "tired"), IsOk());
  Open();  // as after a start of the program
  const auto read = ExerciseStore(*store_).Find(id);
  ASSERT_THAT(read, IsOk());
  EXPECT_EQ(read->comfort, "tired");
  EXPECT_TRUE(read->ended_at);
  EXPECT_EQ(read->setup.level, 2);
  EXPECT_EQ(read->setup.view.pupils.value, Mm(58));
  EXPECT_EQ(read->setup.view.screen.sd, Mm(6));
  EXPECT_EQ(read->setup.mm_per_dot, 0.18);
  EXPECT_EQ(DayToText(read->setup.day), "2026-08-03");
  ASSERT_THAT(read->attempts, SizeIs(4));
  for (std::size_t i = 0; i < 3; ++i) {
    const Attempt& was = attempts[i];
    const Attempt& is = read->attempts[i];
    EXPECT_EQ(is.number, was.number);
    EXPECT_EQ(is.start, was.start);
    EXPECT_EQ(is.end, was.end);
    EXPECT_EQ(is.separation, was.separation);
    EXPECT_EQ(is.asked, was.asked);
    EXPECT_EQ(is.why, was.why);
    EXPECT_EQ(is.held_s, was.held_s);
    EXPECT_EQ(is.fusing_s, was.fusing_s);
    EXPECT_EQ(is.reach->value, was.reach->value);
    EXPECT_EQ(is.reach->sd, was.reach->sd);
    EXPECT_EQ(is.reach_shared_sd, was.reach_shared_sd);
    EXPECT_EQ(is.eye, was.eye);
  }
  EXPECT_FALSE(read->attempts[3].reach);
  EXPECT_FALSE(read->attempts[3].fusing_s);
}

TEST_F(ExerciseStoreTest, PracticeIsNotInTheDiary) {
  ExerciseStore exercises(*store_);
  const RowId practice = exercises.Begin(Setup(true)).value();
  ASSERT_THAT(exercises.AddAttempt(practice, Tried(1, std::nullopt)), IsOk());
  const RowId empty = exercises.Begin(Setup()).value();
  ASSERT_THAT(exercises.End(empty, ""), IsOk());
  const auto sessions = exercises.Sessions(person_);
  ASSERT_THAT(sessions, IsOk());
  EXPECT_THAT(*sessions, SizeIs(1));
  EXPECT_THAT(DiaryEntries(*sessions), IsEmpty());  // nothing was tried
  ASSERT_THAT(exercises.AddAttempt(empty, Tried(1, std::nullopt)), IsOk());
  const auto again = exercises.Sessions(person_).value();
  const auto entries = DiaryEntries(again);
  ASSERT_THAT(entries, SizeIs(1));
  EXPECT_EQ(entries[0].counted, 1);
  EXPECT_EQ(entries[0].asked, 10);
  EXPECT_EQ(entries[0].reach->value, Mm(160));
  const auto results = LevelResults(again, CommonPracticePlan());
  ASSERT_THAT(results, SizeIs(1));
  EXPECT_EQ(results[0].level, 2);
  EXPECT_EQ(results[0].counted, 1);
  ExercisePlan other = CommonPracticePlan();
  other.levels.pop_back();
  EXPECT_THAT(LevelResults(again, other), IsEmpty());
}

TEST_F(ExerciseStoreTest, ThePlanIsTheNewestOrTheCommonPractice) {
  ExerciseStore exercises(*store_);
  EXPECT_EQ(exercises.Plan(person_).value().source, PlanSource::kCommonPractice);
  ExercisePlan plan = CommonPracticePlan();
  plan.source = PlanSource::kClinician;
  plan.set_by = "B";
  plan.repetitions = 7;
  ASSERT_THAT(exercises.SetPlan(person_, plan), IsOk());
  plan.repetitions = 8;
  ASSERT_THAT(exercises.SetPlan(person_, plan), IsOk());
  EXPECT_EQ(exercises.Plan(person_).value().repetitions, 8);
  EXPECT_EQ(exercises.Plan(0).value().repetitions, 10);
}

TEST_F(ExerciseStoreTest, ANumberComesOnce) {
  ExerciseStore exercises(*store_);
  const RowId id = exercises.Begin(Setup()).value();
  ASSERT_THAT(exercises.AddAttempt(id, Tried(1, std::nullopt)), IsOk());
  EXPECT_FALSE(exercises.AddAttempt(id, Tried(1, std::nullopt)).has_value());
  EXPECT_FALSE(exercises.AddAttempt(id + 100, Tried(1, std::nullopt)).has_value());
  EXPECT_THAT(exercises.Find(id + 100), FailsWith(ErrorCode::kNotFound, HasSubstr("exercise")));
}

}  // namespace
}  // namespace nearpoint
