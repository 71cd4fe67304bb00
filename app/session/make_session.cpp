#include "app/session/make_session.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "app/measure/agreement.h"
#include "app/measure/lens_doubt.h"
#include "app/measure/objective_break.h"
#include "app/measure/segment.h"

namespace nearpoint {
namespace {

std::span<const DistanceSample> FramesOf(const Trial& trial,
                                         std::span<const DistanceSample> samples) {
  const auto first = std::ranges::lower_bound(samples, trial.start, {}, &DistanceSample::time);
  const auto last = std::ranges::upper_bound(samples, trial.end, {}, &DistanceSample::time);
  return first < last ? std::span(first, last) : std::span<const DistanceSample>();
}

}  // namespace

Result<Session> MakeSession(std::span<const DistanceSample> samples, std::span<const Event> events,
                            const Profile& profile, const SharedCalibration& shared,
                            const EstimateArguments& arguments) {
  SegmentOptions rules;
  rules.lag = profile.lag;
  rules.lag_sd = profile.lag_sd;
  auto trials = SegmentTrials(samples, events, rules);
  if (!trials) return tl::unexpected(trials.error());

  Session session;
  session.software = "nearpoint " NEARPOINT_VERSION;
  if (arguments.target != TargetType::kNotStated) session.target = ToText(arguments.target);
  session.shared = shared;
  session.glasses = profile.face.glasses;
  for (const DistanceSample& sample : samples) {
    if (!sample.left_lens || !sample.right_lens) continue;
    session.left_lens = sample.left_lens;
    session.right_lens = sample.right_lens;
  }
  if (session.left_lens && !session.glasses) session.glasses = Glasses{};
  std::vector<TrialAgreement> agreements;
  for (Trial& trial : *trials) {
    ObjectiveResult seen = AnalyseVergence(FramesOf(trial, samples));
    trial = WithObjective(trial, seen);
    agreements.push_back(
        WithinLensPower(trial, FramesOf(trial, samples), CompareReport(trial, seen)));
    session.eyes.push_back({std::move(seen), agreements.back()});
  }
  session.trials = *std::move(trials);
  session.agreement = CompareSession(agreements);
  const EstimateOptions options = OptionsOf(arguments);
  session.estimate = EstimateNearPoint(session.trials, session.shared, options);
  session.set_aside = EffectOfRules(session.trials, session.shared, options);
  session.cut_off_from = CutOffSource(arguments);
  return session;
}

}  // namespace nearpoint
