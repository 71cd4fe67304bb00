// What the person is told during an exercise, in the language of the window.
#pragma once

#include <QString>

#include "app/exercise/diary.h"
#include "app/exercise/repetition_counter.h"

namespace nearpoint::words {

// Large on the screen, and what is said aloud.
struct ExercisePrompt {
  QString large;
  QString line;
  QString spoken;
};
// phase: nullopt while the distance to the screen is being found.
[[nodiscard]] ExercisePrompt ForExercise(std::optional<CounterPhase> phase, bool reported);
[[nodiscard]] QString ForNotCounted(const Attempt& attempt);
[[nodiscard]] QString ForWarning(CounterWarning warning);
[[nodiscard]] QString ForReminder(Reminder reminder);
// "10 times, held for 5 seconds, on 5 days a week, in the morning, until 25 October 2026".
[[nodiscard]] QString ForPlan(const ExercisePlan& plan);
// Who set it, or that it is common practice.
[[nodiscard]] QString ForPlanSource(const ExercisePlan& plan);

}  // namespace nearpoint::words
