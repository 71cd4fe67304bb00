// What the home program remembers of exercises: plans, sessions and every attempt. Every call is on
// disk when it returns.
#pragma once

#include <QDateTime>
#include <QString>
#include <optional>
#include <vector>

#include "app/exercise/attempt.h"
#include "app/exercise/diary.h"
#include "app/exercise/graded_levels.h"
#include "app/exercise/plan.h"
#include "app/store/store.h"

namespace nearpoint {

// How an exercise session came about; fixed when it begins.
struct ExerciseSetup {
  RowId person = 0;  // 0: nobody said a name
  bool practice = false;
  Day day;  // of the local calendar
  ExercisePlan plan;
  int level = 1;
  PairView view;
  double mm_per_dot = 0;
};

struct StoredExercise {
  RowId id = 0;
  ExerciseSetup setup;
  QDateTime started_at;               // UTC
  std::optional<QDateTime> ended_at;  // absent: never ended in order
  QString comfort;                    // "", "fine", "tired", "discomfort", "double"
  std::vector<Attempt> attempts;      // by number
};

class ExerciseStore {
 public:
  explicit ExerciseStore(Store& store) : store_(store) {}

  // The newest plan of that person, else the common practice.
  [[nodiscard]] Result<ExercisePlan> Plan(RowId person) const;
  Result<void> SetPlan(RowId person, const ExercisePlan& plan);

  [[nodiscard]] Result<RowId> Begin(const ExerciseSetup& setup);
  // kBadValue if that number is there already (two windows on one session).
  Result<void> AddAttempt(RowId session, const Attempt& attempt);
  Result<void> End(RowId session, const QString& comfort);

  // Oldest first; without those of the practice.
  [[nodiscard]] Result<std::vector<StoredExercise>> Sessions(RowId person) const;
  [[nodiscard]] Result<StoredExercise> Find(RowId session) const;

 private:
  Store& store_;
};

// What the diary and the choice of the next level need of them. Sessions without an attempt are
// left out.
[[nodiscard]] std::vector<DiaryEntry> DiaryEntries(const std::vector<StoredExercise>& sessions);
// Of those sessions that were done by this plan.
[[nodiscard]] std::vector<LevelResult> LevelResults(const std::vector<StoredExercise>& sessions,
                                                    const ExercisePlan& plan);

}  // namespace nearpoint
