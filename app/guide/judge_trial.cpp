#include "app/guide/judge_trial.h"

#include <utility>

#include "app/session/make_session.h"

namespace nearpoint {

JudgedTrial JudgeTrial(TrialToJudge trial) {
  JudgedTrial judged;
  FlowTrial& done = judged.done;
  done.events = std::move(trial.events);
  done.samples = std::move(trial.samples);
  // The lag's uncertainty and the limit belong to the session; of this trial only the trial and the
  // eyes are taken.
  auto session = MakeSession(done.samples, done.events, trial.profile, trial.shared, {});
  if (session && !session->trials.empty()) {
    done.trial = session->trials.front();
    done.eyes = session->eyes.front();
  } else {
    done.trial.start = done.events.front().time;
    done.trial.end = done.events.back().time;
    done.trial.set_aside = SetAside::kTrackingLost;
  }
  if (trial.known_reason &&
      (!done.trial.set_aside || done.trial.set_aside == SetAside::kNoResponse)) {
    done.trial.set_aside = trial.known_reason;
  }
  done.trial.number = trial.number;
  done.eyes.agreement.trial = trial.number;
  std::vector<Trial> all = std::move(trial.earlier);
  all.push_back(done.trial);
  judged.advice = AdviseNextStep(all, trial.shared, trial.options, trial.plan);
  judged.effects = EffectOfRules(all, trial.shared, trial.options);
  return judged;
}

}  // namespace nearpoint
