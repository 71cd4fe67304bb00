#include "app/window/event/event_keeper.h"

#include <utility>

#include "app/measure/agreement.h"
#include "app/records/session_json.h"
#include "app/records/trial_eyes_json.h"
#include "app/records/trial_json.h"
#include "app/run/run_facts.h"
#include "app/window/keep_calibration.h"
#include "calibration/population.h"

namespace nearpoint {
namespace {

std::optional<double> AgeOf(const ChildState* child) {
  return child != nullptr ? child->child.age_years : std::nullopt;
}

}  // namespace

EventKeeper::EventKeeper(AppContext& context, EventContext& event)
    : context_(context), event_(event) {
  event_.kept = false;
  const EventState& state = event_.desk()->state();
  const ChildState* const child = state.Find(event_.child);
  options_ = OptionsOf(state.event.rule, AgeOf(child));
  plan_ = PlanOf(state.event.rule);
  if (std::exchange(event_.go_on, false) && child != nullptr) ReadEarlier(*child);
}

void EventKeeper::ReadEarlier(const ChildState& child) {
  for (const TrialMade& made : child.open_trials) {
    auto trial = TrialFromText(made.trial, "a trial of this child");
    auto eyes = TrialEyesFromText(made.eyes, "what the eyes say of a trial of this child");
    if (!trial || !eyes) {
      error_ = !trial ? trial.error() : eyes.error();
      earlier_.clear();
      eyes_.clear();
      return;
    }
    earlier_.push_back(*std::move(trial));
    eyes_.push_back(*std::move(eyes));
  }
}

EventKeeper::~EventKeeper() {
  if (event_.kept || finished_ || event_.desk() == nullptr) return;
  // Where it cannot be written now it is kept, and the station says so.
  static_cast<void>(event_.Write(
      [child = event_.child](EventDesk& desk) { return desk.Stop(child, StopReason::kPaused); }));
  event_.Nudge();
}

void EventKeeper::AddFrame(const DistanceSample& sample) {
  ++frames_;
  if (!sample.distance) ++frames_lost_;
}

Result<void> EventKeeper::Keep(const FlowTrial& trial, const MeasureFlow& flow,
                               const LiveFacts& facts) {
  eyes_.push_back(trial.eyes);
  if (flow.advice().advice != Advice::kContinue) return Finish(flow, facts);
  TrialMade made;
  made.trial = TrialToText(trial.trial);
  made.eyes = TrialEyesToText(trial.eyes);
  made.card = FilledByPopulation(facts.profile.face).empty();
  return event_.Write(
      [child = event_.child, made](EventDesk& desk) { return desk.KeepTrial(child, made); });
}

Result<void> EventKeeper::Finish(const MeasureFlow& flow, const LiveFacts& facts) {
  if (event_.kept || finished_) return {};
  ChildMeasured measured = MeasuredFrom(flow.trials(), eyes_, facts.shared, options_, plan_.least);
  constexpr double kMilliseconds = 1000;
  measured.seconds = static_cast<double>(event_.since.elapsed()) / kMilliseconds;
  measured.card = FilledByPopulation(facts.profile.face).empty();
  finished_ = true;
  auto kept = event_.Write([&event = event_, child = event_.child, measured,
                            text = SessionText(flow, facts)](EventDesk& desk) -> Result<void> {
    const auto done = desk.Keep(child, measured, text);
    if (!done) return tl::unexpected(done.error());
    if (event.child == child) event.kept = true;
    return {};
  });
  event_.Nudge();
  return kept;
}

std::string EventKeeper::SessionText(const MeasureFlow& flow, const LiveFacts& facts) const {
  Session session;
  session.started_at = event_.store().Now().toStdString();
  session.software = "nearpoint " NEARPOINT_VERSION;
  session.target = ToText(TargetType::kAccommodative);
  session.source = facts.description;
  session.frames = frames_;
  session.frames_lost = frames_lost_;
  session.frames_missing = facts.missing;
  session.shared = facts.shared;
  session.trials = flow.trials();
  session.eyes = eyes_;
  std::vector<TrialAgreement> agreements;
  for (const TrialEyes& eyes : eyes_) agreements.push_back(eyes.agreement);
  session.agreement = CompareSession(agreements);
  session.estimate = flow.advice().estimate;
  session.set_aside = flow.effects();
  const EventState& state = event_.desk()->state();
  const Norm& norm = NormOf(state.event.rule, AgeOf(state.Find(event_.child)));
  session.cut_off_from = std::string(norm.name) + " (" + std::string(norm.source) + ")";
  if (context_.practice) {
    session.cautions.emplace_back("Practice with a simulated patient; this measured nobody.");
  }
  const RunCounts counts{frames_, frames_lost_, facts.missing};
  for (std::string& caution : CautionsOfRun(facts.profile, counts)) {
    session.cautions.push_back(std::move(caution));
  }
  if (!context_.practice) {  // nobody measured the simulated child, and it does not grow
    for (std::string& caution : AgeCautions(facts.profile.made, DayOf(context_.store.Now()))) {
      session.cautions.push_back(std::move(caution));
    }
  }
  return SerializeSession(session);
}

}  // namespace nearpoint
