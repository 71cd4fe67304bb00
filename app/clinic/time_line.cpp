#include "app/clinic/time_line.h"

#include "app/clinic/limit_now.h"

namespace nearpoint {
namespace {

constexpr auto kCorneal = ReferencePlane::kCorneal;

// The limit in use, and the first norm of that age with a mean to draw.
void ChooseNorms(TimeLine& line, std::optional<double> age_years, const LimitNow& limit) {
  constexpr auto kTarget = TargetType::kAccommodative;
  line.cut_off = limit.cut_off;
  line.limit_from = limit.from;
  if (!age_years) return;
  for (const Norm* norm : NormsFor(*age_years, kTarget)) {
    if (!norm->break_mean) continue;
    line.mean_from = norm;
    line.mean = norm->break_mean;
    line.mean->mean = MoveToPlane(norm->break_mean->mean,
                                  norm->plane.value_or(ReferencePlane::kSpectacle), kCorneal);
    return;
  }
}

}  // namespace

TimeLine MakeTimeLine(std::span<const SessionDigest> sessions, std::optional<double> age_years) {
  TimeLine line;
  const LimitNow limit = LimitFor(age_years, SaidByTheNewest(sessions));
  ChooseNorms(line, age_years, limit);
  std::vector<SessionPoint> counted;
  std::vector<std::size_t> place;  // in line.points, of each counted
  for (std::size_t i = 0; i < sessions.size(); ++i) {
    const SessionDigest session = HeldAgainst(sessions[i], limit);
    if (session.simulated) continue;
    TimePoint point;
    point.session = i;
    point.day = session.day;
    point.band = session.break_mm;
    point.answer = session.answer;
    point.accepted = session.accepted;
    point.eyes_disagree = session.eyes_disagree;
    if (session.point) {
      place.push_back(line.points.size());
      counted.push_back(*session.point);
    } else {
      point.why_not = "No trial counts.";
    }
    line.points.push_back(point);
  }
  EstimateOptions options;
  options.cut_off = line.cut_off;
  line.progress = EstimateProgress(counted, options);
  for (std::size_t i = 0; i < line.progress.sessions.size() && i < place.size(); ++i) {
    const SessionOnCourse& on = line.progress.sessions[i];
    TimePoint& point = line.points[place[i]];
    point.counted = on.counted;
    point.why_not = on.why_not;
    if (on.line_mm) {
      point.line_mm = on.line_mm->value;
      point.line_low_mm = on.line_mm->low;
      point.line_high_mm = on.line_mm->high;
    }
  }
  return line;
}

}  // namespace nearpoint
