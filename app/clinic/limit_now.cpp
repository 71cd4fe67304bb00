#include "app/clinic/limit_now.h"

#include <cmath>
#include <cstdio>

#include "app/measure/answer.h"

namespace nearpoint {
namespace {

constexpr auto kCorneal = ReferencePlane::kCorneal;

// Files state a limit to a tenth of a millimetre.
bool Alike(Length a, Length b) {
  constexpr double kRounding = 0.06;
  return std::abs(a.mm() - b.mm()) < kRounding;
}

}  // namespace

LimitNow LimitFor(std::optional<double> age_years, std::optional<Length> said) {
  if (age_years) {
    if (const auto norm = DefaultNorm(*age_years, TargetType::kAccommodative)) {
      return {BreakLimitIn(**norm, kCorneal), *norm,
              std::string((*norm)->name) + " (" + std::string((*norm)->source) + ")"};
    }
  }
  if (said) return {*said, nullptr, "as the newest measurement was held against; no age is known"};
  return {EstimateOptions().cut_off, nullptr, "that of adults; no age is known"};
}

std::optional<Length> SaidByTheNewest(std::span<const SessionDigest> sessions) {
  std::optional<Length> said;
  for (const SessionDigest& session : sessions) {
    if (!session.simulated) said = session.said ? session.said->cut_off : session.cut_off;
  }
  return said;
}

SessionDigest HeldAgainst(SessionDigest digest, const LimitNow& limit) {
  const SessionDigest::Said said =
      digest.said.value_or(SessionDigest::Said{digest.cut_off, digest.answer});
  digest.said.reset();
  digest.cut_off = said.cut_off;
  digest.answer = said.answer;
  if (Alike(said.cut_off, limit.cut_off)) return digest;
  digest.said = said;
  digest.cut_off = limit.cut_off;
  digest.answer = AnswerFor(digest.break_mm, limit.cut_off);
  return digest;
}

StoredSession HeldAgainst(StoredSession session, const LimitNow& limit) {
  Estimate& estimate = session.estimate;
  const Length cut_off = MoveToPlane(limit.cut_off, kCorneal, session.plane);
  if (Alike(estimate.cut_off, cut_off)) return session;
  char when[160];
  std::snprintf(when, sizeof when,
                "On its day this measurement was held against %.1f mm: %s. The limit here is the "
                "one for the age that is known now.",
                estimate.cut_off.mm(), std::string(ToText(estimate.answer)).c_str());
  session.cautions.emplace_back(when);
  EstimateOptions options;
  options.cut_off = cut_off;
  options.plane = session.plane;
  estimate.probability_beyond =
      EstimateNearPoint(session.data.trials, session.data.shared, options).probability_beyond;
  estimate.cut_off = cut_off;
  estimate.answer = AnswerFor(estimate.break_mm, cut_off);
  session.cut_off_from = limit.words;
  return session;
}

}  // namespace nearpoint
