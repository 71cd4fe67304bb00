// What is to be done, on how many days, until when.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "vision/core/units.h"

namespace nearpoint {

using Day = std::chrono::sys_days;  // of the local calendar

enum class PlanSource { kClinician, kCommonPractice };

struct ExercisePlan {
  PlanSource source = PlanSource::kCommonPractice;
  std::string set_by;                  // who, for a clinician's plan
  int repetitions = 10;                // that count, in one session
  double hold_s = 3;                   // at the end point
  std::vector<Length> levels;          // fixation distances from the corneal plane, far to near
  int first_level = 1;                 // number of the level to begin with, from 1
  int days_per_week = 5;               // 1 to 7
  bool mornings = false;               // asked for in the morning
  std::optional<Day> starts;           // nothing is due before it
  std::optional<Day> until;            // the last day; absent: until the clinician says so
  std::string note;                    // the clinician's words to the patient; may be empty
  std::vector<std::string> stop_when;  // a plain sentence each: when to stop and ask
  std::vector<Day> measure_on;         // when to measure the near point again, in order
};

// What stands where no clinician set a plan. Five days a week: the home push-ups of the CITT (Arch
// Ophthalmol 2005 and 2008; 15 minutes a day there, for 12 weeks). Ten times with a count of three
// at the end point: a clinic's handout on physiological diplopia. The distances (200 to 80 mm) are
// this program's own choice, no source.
[[nodiscard]] ExercisePlan CommonPracticePlan();

// The distances of the plan that lie nearer than where this person saw two: there the pair cannot
// be held, and only whoever set the plan knows whether that is meant. break_point: from the corneal
// plane, as the levels.
[[nodiscard]] std::vector<Length> NearerThanBreak(const ExercisePlan& plan, Length break_point);

// What the last sessions say about the level of the next: one nearer after two sessions in a row in
// which every repetition asked for was done on that level, one farther after two in a row with less
// than half of them, else the same. This program's own rule, no source; a person may choose
// another level at any time.
struct LevelResult {
  int level = 0;    // from 1
  int counted = 0;  // repetitions
  int asked = 0;    // > 0
};
// results: oldest first; of sessions of this plan. level_count >= 1.
[[nodiscard]] int NextLevel(const ExercisePlan& plan, const std::vector<LevelResult>& results,
                            int level_count);

}  // namespace nearpoint
