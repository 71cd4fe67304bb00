// The days on which the exercise was done, what was reached, and what is due today. Nothing here
// counts days in a row: a day without exercise is a day without exercise.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "app/exercise/plan.h"
#include "app/measure/estimate.h"
#include "vision/core/units.h"

namespace nearpoint {

// One session, as the diary needs it.
struct DiaryEntry {
  Day day;
  int counted = 0;                       // repetitions
  int asked = 0;                         // by the plan
  std::optional<UncertainLength> reach;  // nearest pair held, from the corneal plane
};

enum class DayMark {
  kDone,      // as many repetitions as asked, in all sessions of the day
  kPart,      // some
  kNone,      // none, on a day of the plan
  kNotAsked,  // before the plan began, after its end, or still to come
};

struct DiaryDay {
  Day day;
  DayMark mark = DayMark::kNotAsked;
  int counted = 0;
  int asked = 0;
};

// A week from Monday to Sunday (ISO 8601). A plan asks for a number of days in it, not for certain
// days.
struct DiaryWeek {
  std::vector<DiaryDay> days;  // seven
  int done = 0;                // days done or done in part
  int wanted = 0;              // by the plan; fewer in a week that it covers in part
};

// The last weeks up to the one of `today`, at most `weeks` >= 1, oldest first; those before the
// plan began are left out. A plan without a first day begins with the first entry, or today.
// Entries in any order.
[[nodiscard]] std::vector<DiaryWeek> DiaryWeeks(const ExercisePlan& plan,
                                                std::span<const DiaryEntry> entries, Day today,
                                                int weeks);
[[nodiscard]] Day MondayOf(Day day);

enum class Reminder {
  kNotBegun,  // the plan starts later
  kOver,      // the plan's last day is past
  kDoneToday,
  kEnough,    // as many days as wanted this week
  kDue,       // a day for it, and it is the time of day the plan names
  kDueLate,   // a day for it; a plan for mornings, and the morning is over
  kAskFirst,  // whatever the plan says: something keeps the person from exercising
};
// hour: of the local day, 0 to 23. Never kAskFirst: that is not for the plan to say.
[[nodiscard]] Reminder RemindNow(const ExercisePlan& plan, std::span<const DiaryEntry> entries,
                                 Day today, int hour);

struct ReachPoint {
  Day day;
  double mm = 0;  // the nearest of that day, from the corneal plane
  Band band;      // 95 %, by the geometry of the pair
};

struct ReachCourse {
  std::vector<ReachPoint> points;  // a day each, in order
  // Millimetres per week with its 95 % band; negative: the reach comes nearer. From five days on,
  // over at least two weeks.
  std::optional<Band> trend_mm_per_week;
  bool changes = false;  // the band leaves out zero
};
[[nodiscard]] ReachCourse ReachOverTime(std::span<const DiaryEntry> entries);

}  // namespace nearpoint
