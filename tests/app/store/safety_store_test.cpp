// What is known of a person before they measure, as it comes back from the file.
#include "app/store/safety_store.h"

#include <gmock/gmock.h>

#include "app/store/exercise_store.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using enum SafetyQuestion;
using Kind = SafetyStore::Kind;

QDateTime Now() { return {QDate(2026, 3, 14), QTime(9, 26), Qt::UTC}; }

class SafetyStoreTest : public ::testing::Test {
 protected:
  RowId Add(const QString& name) {
    Person person;
    person.name = name;
    return store_.AddPerson(person).value().id;
  }
  RowId Measured(RowId person, const QString& comfort, bool practice = false) {
    SessionSetup setup;
    setup.person = person;
    setup.practice = practice;
    setup.source = setup.norm = setup.target = "a";
    const RowId id = store_.BeginSession(setup).value();
    EXPECT_THAT(store_.EndSession(id, comfort), IsOk());
    return id;
  }
  void Exercised(RowId person, const QString& comfort) {
    ExerciseSetup setup;
    setup.person = person;
    setup.plan = CommonPracticePlan();
    const RowId id = ExerciseStore(store_).Begin(setup).value();
    EXPECT_THAT(ExerciseStore(store_).End(id, comfort), IsOk());
  }
  bool Trouble(RowId person) { return safety_.FactsOf(person).value().trouble; }

  TempFolder folder_;
  QString file_ = QString::fromStdString(folder_ / "nearpoint.db");
  Store store_ = Store::Open(file_, Now).value();
  SafetyStore safety_{store_};
};

TEST_F(SafetyStoreTest, KeepsTheNewestAnswersOfEachPerson) {
  const RowId mira = Add("Mira");
  const RowId jo = Add("Jo");
  EXPECT_FALSE(safety_.FactsOf(mira).value().whole);
  ASSERT_THAT(safety_.Keep(mira, Kind::kWhole, {{kPain, true}, {kSquint, false}}), IsOk());
  ASSERT_THAT(safety_.Keep(mira, Kind::kToday, {{kNewToday, false}}), IsOk());
  ASSERT_THAT(safety_.Keep(mira, Kind::kWhole, {{kPain, false}, {kSquint, true}}), IsOk());
  ASSERT_THAT(safety_.Keep(0, Kind::kWhole, {{kPain, true}}), IsOk());
  Store again = Store::Open(file_, Now).value();
  const SafetyFacts facts = SafetyStore(again).FactsOf(mira).value();
  ASSERT_TRUE(facts.whole && facts.today);
  EXPECT_EQ(facts.whole->answers, (SafetyAnswers{{kPain, false}, {kSquint, true}}));
  EXPECT_EQ(facts.whole->at, SecondsOf(Now()));
  EXPECT_GT(facts.whole->number, facts.today->number);
  EXPECT_FALSE(facts.told);
  EXPECT_FALSE(safety_.FactsOf(jo).value().whole);
  EXPECT_TRUE(safety_.FactsOf(0).value().whole->answers.at(kPain));
}

TEST_F(SafetyStoreTest, TroubleStaysUntilSomebodyWasAsked) {
  const RowId mira = Add("Mira");
  Measured(mira, "fine");
  EXPECT_FALSE(Trouble(mira));
  Measured(mira, "double", /*practice=*/true);
  EXPECT_FALSE(Trouble(mira));
  Measured(mira, "double");
  Measured(mira, "fine");
  EXPECT_TRUE(Trouble(mira));
  EXPECT_FALSE(Trouble(Add("Jo")));
  ASSERT_THAT(safety_.KeepWhom(mira, "doctor"), IsOk());
  EXPECT_FALSE(Trouble(mira));
  Exercised(mira, "discomfort");
  EXPECT_TRUE(Trouble(mira));
  ASSERT_THAT(safety_.KeepWhom(mira, "professional"), IsOk());
  EXPECT_FALSE(Trouble(mira));
  Measured(mira, "discomfort");
  EXPECT_TRUE(Trouble(mira));
}

TEST_F(SafetyStoreTest, KnowsWhetherAClinicianSetThePlan) {
  const RowId mira = Add("Mira");
  EXPECT_FALSE(safety_.FactsOf(mira).value().plan_by_clinician);
  ExercisePlan plan = CommonPracticePlan();
  plan.source = PlanSource::kClinician;
  plan.set_by = "B";
  ASSERT_THAT(ExerciseStore(store_).SetPlan(mira, plan), IsOk());
  EXPECT_TRUE(safety_.FactsOf(mira).value().plan_by_clinician);
}

TEST_F(SafetyStoreTest, AnswersThatCannotBeReadAreNoClearance) {
  ASSERT_THAT(store_.database().Run("INSERT INTO safety_answer (person, given_at, kind, "
                                    "answers_json) VALUES (NULL, '', 'whole', '[]')"),
              IsOk());
  EXPECT_FALSE(safety_.FactsOf(0));
}

}  // namespace
}  // namespace nearpoint
