// The course of the near point over weeks.
//
// Model, for the sessions j = 1..n on days t_j (in weeks from their middle):
//   session_j = level + slope t_j + day_j + own_j,
//   day_j ~ N(0, d^2) from day to day, own_j ~ N(0, the session's own variance from its trials).
// So the scatter from day to day stays apart from that within a session: more trials in a session
// lower the second and never the first. A session whose trials were all bounds counts as a bound.
// The bands are the posterior of this model (posterior.h, with DayToDayPrior for d and N(0, 10 mm
// per week) for the slope: treated children went from 13.7 to 4.5 cm in 12 weeks, Scheiman et al.,
// Arch Ophthalmol 2005;123:14-24, values from memory). With many sessions this is the
// random-effects meta-regression of the sessions on time; max_likelihood.h computes that, and a
// test holds it against R's metafor::rma and lm.
//
// A straight line is a summary, not a law of nature: treated people often improve first and then
// level off. `bent` says when the sessions contradict a line.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/session_point.h"

namespace nearpoint {

struct SessionOnCourse {
  bool counted = true;
  std::string why_not;          // a sentence when it is not counted
  std::optional<Band> line_mm;  // where the line stands on its day, with the band of the line
};

enum class Course {
  kNearer,      // the near point comes nearer: the band of the slope lies below zero
  kFarther,     // it goes farther away
  kNoneShown,   // the band of the slope holds zero
  kCannotTell,  // fewer than two days
};
[[nodiscard]] std::string_view ToText(Course course);

struct Progress {
  Course course = Course::kCannotTell;
  int sessions_counted = 0;
  double weeks = 0;                            // from the first to the last session counted
  std::optional<Band> slope_mm_per_week;       // negative: nearer
  std::optional<Band> change_mm;               // along the line, from the first to the last
  std::optional<Band> first_mm, last_mm;       // the line on the first and the last day
  std::optional<double> probability_beyond;    // of the line on the last day, beyond the cut-off
  Answer answer = Answer::kCannotTell;         // of the line on the last day
  std::optional<double> within_session_sd_mm;  // one trial's, pooled over the sessions
  std::optional<double> day_to_day_sd_mm;      // d
  // Two single sessions that differ by less than this need not differ at all.
  std::optional<double> repeatability_mm;
  bool bent = false;
  // The slope with the sessions of other times of day counted too; only where there are some.
  std::optional<Band> slope_all_hours_mm_per_week;
  std::vector<SessionOnCourse> sessions;  // one for each given, in their order
  std::vector<std::string> cautions;      // plain sentences
};

// Values are shown from options.plane. Sessions measured more than three hours away from the usual
// time of day are kept and shown but not counted: eyes tire, so morning against evening is not a
// change. The usual time is the hour of that session which has most others within three hours. Of
// several calibrations each may be wrong on its own, and the bands hold that.
[[nodiscard]] Progress EstimateProgress(std::span<const SessionPoint> sessions,
                                        const EstimateOptions& options = {});

}  // namespace nearpoint
