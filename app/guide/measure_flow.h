// The course of a guided measurement: from frames and presses to trials, one step at a time. It
// decides what the person is asked to do next and when a trial begins and ends; what a trial says
// is decided by app/measure (judge_trial.h). All times are those of the frames, so nothing here
// waits.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/guide/judge_trial.h"
#include "app/guide/pace.h"
#include "app/measure/events.h"
#include "app/measure/stopping.h"
#include "app/records/session_json.h"
#include "calibration/profile.h"
#include "vision/core/distance_sample.h"

namespace nearpoint {

enum class FlowPhase {
  kFind,      // nothing is known of the eyes yet
  kMoveBack,  // nearer than the start line
  kReady,     // beyond it; the trial begins after a moment
  kApproach,  // coming nearer; a press says "two"
  kAsNear,    // single down to where the camera can measure; a press still says "two"
  kReturn,    // going back; a press says "one again"
  kSettle,    // the report is given; a moment more is measured
  kRest,      // between trials
  kDone,      // no further trial is wanted: advice() says why
};

struct FlowRules {
  Length start_line = Length::Millimeters(300);  // a trial runs from beyond this
  // The first approach may begin this much nearer, so that the line is no hair trigger.
  Length start_slack = Length::Millimeters(10);
  Time ready_for = FromMilliseconds(700);
  Time settle_for = FromMilliseconds(600);  // SegmentOptions::fit_after and a little
  Time rest_for = FromMilliseconds(10000);
  // Two presses nearer together than this are one.
  Time bounce = FromMilliseconds(250);
  // Where the camera cannot follow both eyes any more (ShortestMeasurableDistance), and from where
  // on the person hears that it goes no nearer.
  Length shortest = Length::Millimeters(45);
  Length shortest_margin = Length::Millimeters(8);
  // Turned round without a report: this much farther than the nearest point.
  Length turned = Length::Millimeters(40);
  // No eyes for so long, away from the near end: the trial is over.
  Time lost_for = FromMilliseconds(4000);
  // Back at the start line without "one again": no recovery in this trial.
  Time back_for = FromMilliseconds(1500);
  PaceRules pace;
};

struct FlowState {
  FlowPhase phase = FlowPhase::kFind;
  std::optional<Length> distance;     // of the last frame with one, while it is fresh
  std::optional<LostReason> lost;     // why nothing is known now
  Pace pace;                          // in kApproach and kReturn
  std::optional<Length> companion;    // where one who keeps the pace would be, in kApproach
  Time rest_left{};                   // in kRest
  int trial = 1;                      // the number of the trial that runs or comes next
  int counted = 0;                    // trials that count so far
  std::optional<SetAside> set_aside;  // of the last trial, until the next begins
  bool last_to_the_nose = false;      // the last trial never doubled
};

class MeasureFlow {
 public:
  // earlier: the trials of a session that goes on. options: what the answer is held against.
  MeasureFlow(const FlowRules& rules, const EstimateOptions& options, const StoppingPlan& plan,
              std::vector<Trial> earlier = {});

  void SetRules(const FlowRules& rules) { rules_ = rules; }
  // What the trials are measured with; may change when a source is opened again. Whether earlier
  // trials answer already is decided with the first of these: it depends on what is uncertain in
  // all of them alike.
  void SetProfile(const Profile& profile, const SharedCalibration& shared);

  // Frames in the order of their time. True when a trial has just ended: TakeTrial gives it.
  bool OnFrame(const DistanceSample& sample);
  // Whether the press meant something here and now, and what.
  enum class Heard { kNothing, kTwo, kOneAgain, kGoOn };
  Heard OnPress(Time time);
  // The source broke off. A trial that was running is dropped, since its frames are incomplete.
  void Interrupt();

  // From now on a trial that ended waits to be judged by somebody else (kSettle goes on until
  // then): TakeToJudge gives it, and Judged takes what JudgeTrial made of it.
  void LetOthersJudge() { others_judge_ = true; }
  [[nodiscard]] std::optional<TrialToJudge> TakeToJudge();
  void Judged(JudgedTrial judged);
  // A trial is being judged.
  [[nodiscard]] bool judging() const { return judging_; }

  [[nodiscard]] std::optional<FlowTrial> TakeTrial();
  [[nodiscard]] const FlowState& state() const { return state_; }
  [[nodiscard]] const std::vector<Trial>& trials() const { return trials_; }
  [[nodiscard]] const NextStep& advice() const { return advice_; }
  // What the estimate would be without each rule, of the trials so far.
  [[nodiscard]] const std::vector<RuleEffect>& effects() const { return effects_; }

 private:
  void Enter(FlowPhase phase, Time now);
  void BeginTrial(Time now);
  void FollowApproach(const DistanceSample& sample);
  void FollowReturn(const DistanceSample& sample);
  void EndTrial(Time now, std::optional<SetAside> known_reason = std::nullopt);
  [[nodiscard]] bool TurnedRound() const;
  [[nodiscard]] bool LostTooLong(Time now) const;

  FlowRules rules_;
  EstimateOptions options_;
  StoppingPlan plan_;
  Profile profile_;
  SharedCalibration shared_;
  bool weighed_ = false;  // the earlier trials, with the first profile
  std::vector<Trial> trials_;
  NextStep advice_;
  std::vector<RuleEffect> effects_;
  bool others_judge_ = false;
  bool judging_ = false;
  std::optional<TrialToJudge> to_judge_;
  FlowState state_;
  PaceMeter meter_;

  Time entered_{};                  // the phase
  Time last_{};                     // the last frame
  bool interrupted_ = false;        // and none since
  std::optional<Time> seen_;        // the last frame with a distance
  std::optional<Time> back_since_;  // beyond the start line in kReturn
  std::optional<Time> last_press_;
  std::optional<Length> nearest_;  // of this approach
  Time nearest_at_{};
  Length start_;  // where this approach began
  Length companion_from_;
  std::vector<DistanceSample> samples_;  // of this trial, from a little before it
  std::vector<Event> events_;            // of this trial
  std::optional<FlowTrial> finished_;
};

}  // namespace nearpoint
