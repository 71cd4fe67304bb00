#include "app/live/practice_patient.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <memory>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>

#include "vision/card/draw_pattern.h"

namespace nearpoint {
namespace {

using simulate::PatientOptions;
using simulate::Report;
using simulate::ReportKind;

constexpr int kCardDotsPerMm = 10;

// One performance after another on one clock, and the last picture again and again in between.
class WaitingPatient : public FrameSource {
 public:
  static Result<std::unique_ptr<WaitingPatient>> Make(PracticeOptions options) {
    options.patient.behaviour.trials = 1;
    auto patient = std::unique_ptr<WaitingPatient>(new WaitingPatient(std::move(options)));
    if (auto begun = patient->Prepare(); !begun) return tl::unexpected(begun.error());
    return patient;
  }

  [[nodiscard]] const SourceInfo& info() const override { return info_; }

  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    if (options_.real_time) WaitForNext();
    if (const int wanted = *wanted_; !performing_ && wanted != trial_) {
      trial_ = wanted;
      performing_ = true;
      began_ = clock_;
      if (auto begun = Prepare(); !begun) return tl::unexpected(begun.error());
    }
    if (performing_ || !still_) {
      auto frame = source_->Next();
      if (!frame) return tl::unexpected(frame.error());
      if (*frame) {
        still_ = (*frame)->bgr();
        if (performing_) FollowScript((*frame)->time());
        return Stamped();
      }
      performing_ = false;
      sees_two_ = false;
    }
    return Stamped();
  }

  [[nodiscard]] bool sees_two() const { return sees_two_; }
  std::vector<LivePress> TakePresses() { return std::exchange(presses_, {}); }
  // May be set from any thread and after this source is gone.
  [[nodiscard]] std::shared_ptr<std::atomic<int>> wanted() const { return wanted_; }

 private:
  explicit WaitingPatient(PracticeOptions options)
      : options_(std::move(options)),
        interval_(FromMilliseconds(1000 / options_.patient.behaviour.frames_per_second)),
        started_(std::chrono::steady_clock::now()) {}

  // The next performance: the same person, another trial.
  Result<void> Prepare() {
    PatientOptions patient = options_.patient;
    patient.seed += static_cast<std::uint64_t>(trial_);
    simulate::Behaviour& behaviour = patient.behaviour;
    const Length tired = behaviour.recession_per_trial * trial_;
    behaviour.break_mean = behaviour.break_mean + tired;
    behaviour.recovery_mean = behaviour.recovery_mean + tired;
    auto source = simulate::MakePatient(patient);
    if (!source) return tl::unexpected(source.error());
    source_ = *std::move(source);
    script_ = simulate::MakeScript(patient);
    next_report_ = 0;
    pressed_at_once_ = false;
    if (!still_) info_ = source_->info();
    info_.frame_count.reset();
    return {};
  }

  void FollowScript(Time until) {
    const auto seen_two = [until](const simulate::TrialTruth& trial) {
      return trial.broke && trial.break_time <= until && until < trial.recovery_time;
    };
    sees_two_ = std::ranges::any_of(script_.trials, seen_two);
    if (options_.presses_at_once && !pressed_at_once_ && until >= *options_.presses_at_once) {
      pressed_at_once_ = true;
      presses_.push_back({began_ + until});
    }
    while (next_report_ < script_.reports.size() && script_.reports[next_report_].time <= until) {
      const Report& report = script_.reports[next_report_++];
      const bool key = report.kind == ReportKind::kDouble || report.kind == ReportKind::kSingle;
      if (key && options_.presses && !options_.presses_at_once)
        presses_.push_back({began_ + report.time});
    }
  }

  std::optional<Frame> Stamped() {
    Frame frame(index_++, clock_, still_->clone());
    clock_ += interval_;
    return frame;
  }

  void WaitForNext() const {
    std::this_thread::sleep_until(
        started_ + std::chrono::duration_cast<std::chrono::steady_clock::duration>(clock_));
  }

  PracticeOptions options_;
  Time interval_;
  std::chrono::steady_clock::time_point started_;
  SourceInfo info_;
  std::unique_ptr<FrameSource> source_;
  simulate::Script script_;
  std::size_t next_report_ = 0;
  bool pressed_at_once_ = false;
  std::vector<LivePress> presses_;
  std::optional<cv::Mat> still_;
  std::shared_ptr<std::atomic<int>> wanted_ = std::make_shared<std::atomic<int>>(0);
  bool performing_ = false;
  bool sees_two_ = false;
  int trial_ = 0;  // the one that is or was performed
  std::int64_t index_ = 0;
  Time clock_{};
  Time began_{};
};

}  // namespace

PracticeOptions DefaultPractice() {
  PracticeOptions options;
  PatientOptions& patient = options.patient;
  patient.seed = 7;
  patient.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  patient.optics.aperture = Length::Millimeters(1.2);
  patient.behaviour.start = Length::Millimeters(360);
  patient.behaviour.break_mean = Length::Millimeters(92);
  patient.behaviour.recovery_mean = Length::Millimeters(120);
  patient.behaviour.approach = Speed::MillimetersPerSecond(18);
  patient.behaviour.withdrawal = Speed::MillimetersPerSecond(30);
  patient.behaviour.frames_per_second = 15;
  return options;
}

PracticeOptions PracticeWithCard() {
  PracticeOptions options = DefaultPractice();
  simulate::CardProp card;
  card.place = simulate::CardPlace::kHeld;
  card.picture = DrawCardPattern(kCardDotsPerMm);
  options.patient.card = card;
  // The head is learned before the card hides a part of it.
  options.patient.behaviour.hold = FromMilliseconds(1500);
  return options;
}

PracticeOptions PracticeWith(PracticeChild child) {
  PracticeOptions options = DefaultPractice();
  PatientOptions& patient = options.patient;
  patient.appearance.head_scale = 0.88;
  patient.appearance.distance_pd = Length::Millimeters(55);
  patient.seed = 11 + static_cast<std::uint64_t>(child);
  patient.appearance.texture_seed = patient.seed;
  switch (child) {
    case PracticeChild::kEasy:
      break;
    case PracticeChild::kWillNotLook:
      patient.behaviour.turn = Angle::Degrees(35);
      patient.behaviour.sway = 3;
      break;
    case PracticeChild::kPressesAtOnce:
      options.presses_at_once = FromMilliseconds(2500);
      break;
    case PracticeChild::kMovesBack:
      patient.behaviour.nearest = Length::Millimeters(200);
      patient.behaviour.fusion_holds = true;
      patient.behaviour.reports = false;
      break;
    case PracticeChild::kGlasses:
      patient.appearance.glasses = true;
      break;
    case PracticeChild::kSilent:
      patient.behaviour.reports = false;
      break;
  }
  return options;
}

OpenLiveSource OpenPractice(PracticeOptions options) {
  return [options = std::move(options)]() -> Result<LiveSource> {
    auto patient = WaitingPatient::Make(options);
    if (!patient) return tl::unexpected(patient.error());
    WaitingPatient* const raw = patient->get();
    LiveSource source;
    source.profile = simulate::TrueProfile(options.patient);
    if (const auto& card = options.patient.card;
        card && card->place == simulate::CardPlace::kHeld) {
      source.profile.held_card = HeldCardSetup{card->target_in_card_mm, std::nullopt};
    }
    if (const auto& practised = options.practised) {
      source.profile.face = practised->face;
      source.profile.made.face = practised->made.face;
      source.profile.print = practised->print;
      source.profile.made.print = practised->made.print;
      if (source.profile.held_card && practised->held_card) {
        source.profile.held_card->zero = practised->held_card->zero;
      }
    }
    source.sees_two = [raw] { return raw->sees_two(); };
    source.presses = [raw] { return raw->TakePresses(); };
    source.begin_trial = [wanted = raw->wanted()](int number) { *wanted = number; };
    source.simulated = true;
    source.frames = *std::move(patient);
    return source;
  };
}

}  // namespace nearpoint
