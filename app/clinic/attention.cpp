#include "app/clinic/attention.h"

#include <algorithm>
#include <span>

#include "app/measure/change.h"

namespace nearpoint {
namespace {

// What calls for a look at once, as the home program writes it.
bool IsTrouble(std::string_view comfort) { return comfort == "double" || comfort == "discomfort"; }

bool Worse(const SessionDigest& earlier, const SessionDigest& later) {
  if (!earlier.point || !later.point) return false;
  return CompareSessions(*earlier.point, *later.point).change == Change::kFarther;
}

bool WorseThanEarlier(const std::vector<const SessionDigest*>& measured) {
  const SessionDigest& newest = *measured.back();
  if (!newest.point) return false;
  std::vector<const SessionDigest*> comparable;
  for (const SessionDigest* session : std::span(measured).first(measured.size() - 1)) {
    if (session->point && SameTimeOfDay(*session->point, *newest.point)) {
      comparable.push_back(session);
    }
  }
  if (comparable.empty()) return false;
  if (Worse(*comparable.back(), newest)) return true;
  return comparable.size() > 1 && Worse(*comparable.front(), newest);
}

}  // namespace

std::vector<Reason> Reasons::List() const {
  std::vector<Reason> list;
  for (int i = 0; i < kReasonCount; ++i) {
    if (Has(static_cast<Reason>(i))) list.push_back(static_cast<Reason>(i));
  }
  return list;
}

Reasons Reasons::FromStored(std::uint32_t stored) {
  Reasons reasons;
  reasons.bits_ = stored & ((1U << kReasonCount) - 1);
  return reasons;
}

Reasons ReasonsFromSessions(std::span<const SessionDigest> sessions) {
  std::vector<const SessionDigest*> measured;
  for (const SessionDigest& session : sessions) {
    if (!session.simulated) measured.push_back(&session);
  }
  Reasons reasons;
  if (measured.empty() || measured.back()->accepted) return reasons;
  const SessionDigest& newest = *measured.back();
  if (IsTrouble(newest.comfort)) reasons.Add(Reason::kSymptoms);
  if (WorseThanEarlier(measured)) reasons.Add(Reason::kWorse);
  if (newest.answer == Answer::kBeyond) reasons.Add(Reason::kBeyond);
  if (newest.eyes_disagree) reasons.Add(Reason::kDisagreement);
  if (PoorQuality(newest)) reasons.Add(Reason::kPoorQuality);
  return reasons;
}

Reasons WithLimitOf(const SessionDigest& newest, Reasons stored) {
  if (newest.simulated) return stored;
  stored.Remove(Reason::kBeyond);
  if (!newest.accepted && newest.answer == Answer::kBeyond) stored.Add(Reason::kBeyond);
  return stored;
}

Reasons ReasonsFromPlan(const PlanState& state, Day today) {
  Reasons reasons;
  const auto unseen = [&state](const std::optional<Day>& day) {
    return day && (!state.seen || *day > *state.seen);
  };
  if ((IsTrouble(state.last_comfort) && unseen(state.last_comfort_day)) ||
      unseen(state.high_score_day)) {
    reasons.Add(Reason::kSymptoms);
  }
  if (!state.plan) return reasons;
  const ExercisePlan& plan = *state.plan;
  const bool in_force =
      (!plan.starts || *plan.starts <= today) && (!plan.until || today <= *plan.until);
  // Nobody can have stopped before the plan began, nor is it said again right after a look.
  std::optional<Day> since = plan.starts;
  const auto not_before = [&since](const std::optional<Day>& day) {
    if (day && since && *day > *since) since = day;
  };
  if (!since) since = state.last_exercise;
  not_before(state.last_exercise);
  not_before(state.seen);
  if (in_force && since && (today - *since).count() >= kDaysWithoutExercise) {
    reasons.Add(Reason::kExerciseStopped);
  }
  // The last of the dates that are past: an earlier one has been overtaken by it.
  const auto next = std::ranges::lower_bound(plan.measure_on, today);
  if (next != plan.measure_on.begin()) {
    const Day due = *std::prev(next);
    if (unseen(due) && (!state.last_measured || *state.last_measured < due)) {
      reasons.Add(Reason::kMeasureDue);
    }
  }
  return reasons;
}

}  // namespace nearpoint
