#include "app/window/pages/measure_page.h"

#include <QPushButton>
#include <QTimer>
#include <QVBoxLayout>
#include <utility>

#include "app/window/app_context.h"
#include "app/window/exercise/dot_size.h"
#include "app/window/letter_detail.h"
#include "app/window/measure_view.h"
#include "app/window/parts.h"
#include "app/window/session_keeper.h"
#include "app/window/words.h"
#include "vision/distance/shortest_distance.h"

namespace nearpoint {
namespace {

// As far as distances of a held card were held against the truth (held_card_test.cpp).
constexpr Length kCardShortest = Length::Millimeters(40);

PaceTone ToneFor(const FlowState& state) {
  if (state.phase != FlowPhase::kApproach && state.phase != FlowPhase::kReturn) {
    return PaceTone::kSilent;
  }
  switch (state.pace.verdict) {
    case PaceVerdict::kUnknown:
      return PaceTone::kSilent;
    case PaceVerdict::kGood:
      return PaceTone::kGood;
    case PaceVerdict::kTooFast:
      return PaceTone::kTooFast;
    case PaceVerdict::kTooSlow:
    case PaceVerdict::kWrongWay:
      return PaceTone::kTooSlow;
  }
  return PaceTone::kSilent;
}

// 0 at the start line, 1 at 5 cm.
double ToneHeight(const FlowState& state) {
  constexpr double kFar = 300;
  constexpr double kNear = 50;
  return state.distance ? (kFar - state.distance->mm()) / (kFar - kNear) : 0;
}

}  // namespace

MeasurePage::MeasurePage(AppContext& the_context, QWidget* parent)
    : MeasurePage(the_context, std::make_unique<SessionKeeper>(the_context), parent) {}

MeasurePage::MeasurePage(AppContext& the_context, std::unique_ptr<TrialKeeper> keeper,
                         QWidget* parent)
    : Page(the_context, parent),
      keeper_(std::move(keeper)),
      flow_(FlowRules(), keeper_->options(), keeper_->plan(), keeper_->earlier()) {
  // A trial is looked at for a tenth of a second and more, in which the window must paint.
  flow_.LetOthersJudge();
  SetHeading(tr("Measurement"));
  FillWindow();
  const QString target = context().store.Setting("target", "printed");
  const double mm_per_dot = DotSizeOf(*this, context().store).mm_per_dot;
  context().letter_detail =
      context().practice ? std::nullopt
                         : LetterDetail(target, context().store, context().profile, mm_per_dot);
  view_ = new MeasureView(context().practice, target, mm_per_dot);
  body()->addWidget(view_, 1);
  view_->SetTrials(flow_.trials());
  view_->ShowInstructions();
  if (keeper_->error()) view_->ShowTrouble(words::ForError(*keeper_->error()));

  QPushButton* const stop = AddAside(tr("Stop (Esc)"));
  stop->setObjectName("stop");
  stop->setProperty("role", "way_out");
  stop->setFocusPolicy(Qt::NoFocus);
  connect(stop, &QPushButton::clicked, this, [this] { emit Wanted(WayOut()); });
  if (context().practice) {
    QPushButton* const watch = AddAside(tr("Only watch"));
    watch->setObjectName("watch");
    watch->setAccessibleDescription(tr("The simulated person presses the key."));
    watch->setFocusPolicy(Qt::NoFocus);
    connect(watch, &QPushButton::clicked, this, [this, watch] {
      context().patient_presses = true;
      watch->hide();
      if (stage_ == Stage::kBefore) Begin();
    });
  }

  Live& live = context().live;
  connect(&live, &Live::Started, this, &MeasurePage::OnStarted);
  connect(&live, &Live::FrameArrived, this, &MeasurePage::OnFrame);
  connect(&live, &Live::PressArrived, this, &MeasurePage::OnPatientPress);
  connect(&live, &Live::Failed, this, &MeasurePage::OnFailed);
  if (!keeper_->instructs()) Begin();
}

MeasurePage::~MeasurePage() {
  // A trial that ended with the last frame.
  JudgeTrialThatEnded();
  judge_.Wait();
  TakeJudgement();
  TrialEnded();
  context().live.Stop();
  context().sound.SetPace(PaceTone::kSilent, 0);
  context().patient_presses = false;
}

PageId MeasurePage::WayOut() const { return keeper_->WayOut(); }

void MeasurePage::Begin() {
  stage_ = Stage::kRunning;
  if (auto* watch = findChild<QPushButton*>("watch")) watch->hide();
  view_->ShowRunning();
  view_->SetPrompt({tr("One moment"), tr("The camera is starting ..."), QString()});
  context().live.Start(context().open_source(context()), keeper_->eye_strips());
}

void MeasurePage::TakePress() {
  switch (stage_) {
    case Stage::kBefore:
    case Stage::kBroken:
      Begin();
      return;
    case Stage::kRunning:
      if (!context().patient_presses || flow_.state().phase == FlowPhase::kRest) {
        Report(context().live.Now());
      }
      return;
  }
}

void MeasurePage::OnPatientPress() { Report(context().live.Now()); }

void MeasurePage::Report(Time time) {
  const MeasureFlow::Heard heard = flow_.OnPress(time);
  if (heard == MeasureFlow::Heard::kTwo || heard == MeasureFlow::Heard::kOneAgain) {
    context().sound.PlayHeard(heard == MeasureFlow::Heard::kTwo);
    view_->ShowHeard(heard == MeasureFlow::Heard::kTwo);
  }
  PhaseMayHaveChanged();
}

void MeasurePage::OnStarted() {
  const LiveFacts facts = context().live.facts();
  FlowRules rules;
  rules.shortest =
      facts.profile.held_card ? kCardShortest : ShortestMeasurableDistance(facts.profile);
  flow_.SetRules(rules);
  flow_.SetProfile(facts.profile, facts.shared);
  card_comes_ = facts.profile.held_card.has_value();
  if (flow_.state().phase == FlowPhase::kDone) {
    const auto finished = keeper_->Finish(flow_, facts);
    if (!finished) view_->ShowTrouble(words::ForError(finished.error()));
  }
  context().live.BeginTrial(flow_.state().trial);
  PhaseMayHaveChanged();
}

void MeasurePage::OnFrame(const LiveFrame& frame) {
  if (stage_ != Stage::kRunning) return;
  view_->SetPreview(frame.preview);
  if (frame.sees_two) view_->SetPercept(*frame.sees_two);
  const LiveFacts facts = context().live.facts();
  flow_.SetProfile(facts.profile, facts.shared);
  keeper_->AddFrame(frame.sample);
  if (!frame.eye_strip.empty()) keeper_->AddEyeStrip(frame.sample.time, frame.eye_strip);
  static_cast<void>(flow_.OnFrame(frame.sample));
  JudgeTrialThatEnded();
  PhaseMayHaveChanged();
}

void MeasurePage::JudgeTrialThatEnded() {
  auto over = flow_.TakeToJudge();
  if (!over) return;
  judge_.Run(
      this,
      [judged = judged_, over = *std::move(over)]() mutable {
        *judged = JudgeTrial(std::move(over));
        return true;
      },
      [this](bool) {
        TakeJudgement();
        TrialEnded();
        // Where the source broke off meanwhile, that is what is to be read.
        const bool done = flow_.state().phase == FlowPhase::kDone;
        if (stage_ == Stage::kRunning || done) PhaseMayHaveChanged();
      });
}

void MeasurePage::TakeJudgement() {
  if (!flow_.judging() || !*judged_) return;
  flow_.Judged(*std::exchange(*judged_, std::nullopt));
}

void MeasurePage::PhaseMayHaveChanged() {
  const FlowState& state = flow_.state();
  const words::Prompt prompt = words::ForPhase(state, card_comes_);
  view_->SetState(state);
  view_->SetPrompt(prompt);
  context().sound.SetPace(ToneFor(state), ToneHeight(state));
  if (state.phase == shown_phase_) return;
  shown_phase_ = state.phase;
  if (!prompt.spoken.isEmpty()) context().sound.Say(prompt.spoken);
  if (state.phase == FlowPhase::kFind) context().live.BeginTrial(state.trial);
  if (state.phase == FlowPhase::kDone) {
    context().live.Stop();
    emit Wanted(keeper_->After());
  }
}

void MeasurePage::TrialEnded() {
  const auto trial = flow_.TakeTrial();
  if (!trial) return;
  const auto kept = keeper_->Keep(*trial, flow_, context().live.facts());
  view_->SetTrials(flow_.trials());
  // What waits to be written is said above the page, for as long as it waits.
  if (!kept && context().pending->count() == 0) view_->ShowTrouble(words::ForError(kept.error()));
}

void MeasurePage::OnFailed(const Error& error) {
  if (stage_ != Stage::kRunning) return;
  stage_ = Stage::kBroken;
  flow_.Interrupt();
  context().sound.SetPace(PaceTone::kSilent, 0);
  const int safe = flow_.state().counted;
  const QString what = words::SourceError(error);
  // What to do comes first: below a message that the disk is full, the rest may need scrolling.
  view_->ShowBroken({tr("The camera stopped"),
                     tr("Plug it in and press any key to go on.") + ' ' +
                         (safe == 0 ? tr("No round counts so far.")
                                    : tr("%n round(s) that count are safe.", nullptr, safe)) +
                         ' ' + what,
                     what},
                    words::Detail(error));
  context().sound.Say(what);
}

}  // namespace nearpoint
