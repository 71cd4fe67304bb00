#include "app/exercise/diary.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "app/measure/student_t.h"

namespace nearpoint {
namespace {

using std::chrono::days;

constexpr int kDaysPerWeek = 7;
constexpr double kZ95 = 1.959963984540054;
constexpr std::size_t kLeastPoints = 5;
constexpr int kLeastDays = 14;
constexpr int kNoon = 12;

bool InPlan(const ExercisePlan& plan, Day day) {
  return (!plan.starts || day >= *plan.starts) && (!plan.until || day <= *plan.until);
}

DiaryDay MarkDay(const ExercisePlan& plan, std::span<const DiaryEntry> entries, Day day,
                 Day today) {
  DiaryDay out;
  out.day = day;
  for (const DiaryEntry& e : entries) {
    if (e.day != day) continue;
    out.counted += e.counted;
    out.asked = std::max(out.asked, e.asked);
  }
  if (out.counted > 0) {
    out.mark = out.counted >= out.asked ? DayMark::kDone : DayMark::kPart;
  } else if (InPlan(plan, day) && day <= today) {
    out.mark = DayMark::kNone;
  }
  return out;
}

DiaryWeek WeekOf(const ExercisePlan& plan, std::span<const DiaryEntry> entries, Day monday,
                 Day today) {
  DiaryWeek week;
  int in_plan = 0;
  for (int i = 0; i < kDaysPerWeek; ++i) {
    const Day day = monday + days(i);
    week.days.push_back(MarkDay(plan, entries, day, today));
    if (week.days.back().counted > 0) ++week.done;
    if (InPlan(plan, day)) ++in_plan;
  }
  week.wanted = std::min(plan.days_per_week, in_plan);
  return week;
}

// A straight line through the points with the scatter taken from them: days differ by more than the
// geometry's deviation, most of which is alike in all of them.
std::optional<Band> TrendPerWeek(const std::vector<ReachPoint>& points) {
  const auto n = static_cast<double>(points.size());
  if (points.size() < kLeastPoints ||
      (points.back().day - points.front().day).count() < kLeastDays) {
    return std::nullopt;
  }
  const auto week = [&](const ReachPoint& p) {
    return static_cast<double>((p.day - points.front().day).count()) / kDaysPerWeek;
  };
  double mean_x = 0;
  double mean_y = 0;
  for (const ReachPoint& p : points) {
    mean_x += week(p) / n;
    mean_y += p.mm / n;
  }
  double sxx = 0;
  double sxy = 0;
  for (const ReachPoint& p : points) {
    sxx += (week(p) - mean_x) * (week(p) - mean_x);
    sxy += (week(p) - mean_x) * (p.mm - mean_y);
  }
  const double slope = sxy / sxx;
  double rss = 0;
  for (const ReachPoint& p : points) {
    const double residual = p.mm - mean_y - slope * (week(p) - mean_x);
    rss += residual * residual;
  }
  const double half = StudentTQuantile(0.975, n - 2) * std::sqrt(rss / (n - 2) / sxx);
  return Band{slope, slope - half, slope + half, 0.95};
}

}  // namespace

Day MondayOf(Day day) {
  const std::chrono::weekday weekday(day);
  return day - days(weekday.iso_encoding() - 1);
}

std::vector<DiaryWeek> DiaryWeeks(const ExercisePlan& plan, std::span<const DiaryEntry> entries,
                                  Day today, int weeks) {
  Day first = today;
  for (const DiaryEntry& e : entries) first = std::min(first, e.day);
  ExercisePlan begun = plan;
  if (!begun.starts) begun.starts = first;
  first = std::min(first, *begun.starts);
  std::vector<DiaryWeek> out;
  for (int i = weeks - 1; i >= 0; --i) {
    const Day monday = MondayOf(today) - days(kDaysPerWeek * i);
    if (i > 0 && monday + days(kDaysPerWeek) <= first) continue;
    out.push_back(WeekOf(begun, entries, monday, today));
  }
  return out;
}

Reminder RemindNow(const ExercisePlan& plan, std::span<const DiaryEntry> entries, Day today,
                   int hour) {
  if (plan.starts && today < *plan.starts) return Reminder::kNotBegun;
  if (plan.until && today > *plan.until) return Reminder::kOver;
  const DiaryDay now = MarkDay(plan, entries, today, today);
  if (now.mark == DayMark::kDone) return Reminder::kDoneToday;
  const DiaryWeek week = WeekOf(plan, entries, MondayOf(today), today);
  if (week.done >= plan.days_per_week && now.counted == 0) return Reminder::kEnough;
  return plan.mornings && hour >= kNoon ? Reminder::kDueLate : Reminder::kDue;
}

ReachCourse ReachOverTime(std::span<const DiaryEntry> entries) {
  std::map<Day, UncertainLength> nearest;
  for (const DiaryEntry& e : entries) {
    if (!e.reach) continue;
    const auto [at, added] = nearest.try_emplace(e.day, *e.reach);
    if (!added && e.reach->value < at->second.value) at->second = *e.reach;
  }
  ReachCourse course;
  for (const auto& [day, reach] : nearest) {
    const double half = kZ95 * reach.sd.mm();
    course.points.push_back({day, reach.value.mm(),
                             Band{reach.value.mm(), std::max(0.0, reach.value.mm() - half),
                                  reach.value.mm() + half, 0.95}});
  }
  course.trend_mm_per_week = TrendPerWeek(course.points);
  course.changes = course.trend_mm_per_week &&
                   (course.trend_mm_per_week->low > 0 || *course.trend_mm_per_week->high < 0);
  return course;
}

}  // namespace nearpoint
