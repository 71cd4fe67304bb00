#include "app/exercise/plan.h"

#include <algorithm>
#include <array>
#include <iterator>

namespace nearpoint {

ExercisePlan CommonPracticePlan() {
  ExercisePlan plan;
  constexpr std::array<double, 5> kDistancesMm = {200, 160, 130, 100, 80};
  for (const double mm : kDistancesMm) plan.levels.push_back(Length::Millimeters(mm));
  return plan;
}

std::vector<Length> NearerThanBreak(const ExercisePlan& plan, Length break_point) {
  std::vector<Length> nearer;
  std::ranges::copy_if(plan.levels, std::back_inserter(nearer),
                       [break_point](Length level) { return level < break_point; });
  return nearer;
}

int NextLevel(const ExercisePlan& plan, const std::vector<LevelResult>& results, int level_count) {
  if (results.empty()) return std::clamp(plan.first_level, 1, level_count);
  const LevelResult& last = results.back();
  int step = 0;
  if (results.size() >= 2) {
    const LevelResult& before = results[results.size() - 2];
    const bool same = before.level == last.level;
    const auto all = [](const LevelResult& r) { return r.counted >= r.asked; };
    const auto few = [](const LevelResult& r) { return 2 * r.counted < r.asked; };
    if (same && all(before) && all(last)) step = 1;
    if (same && few(before) && few(last)) step = -1;
  }
  return std::clamp(last.level + step, 1, level_count);
}

}  // namespace nearpoint
