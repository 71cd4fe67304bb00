// The guided measurement, from the first look at the camera to the last trial.
#pragma once

#include <memory>
#include <optional>

#include "app/guide/measure_flow.h"
#include "app/live/live.h"
#include "app/window/in_background.h"
#include "app/window/page.h"
#include "app/window/trial_keeper.h"

class QLabel;
class QPushButton;

namespace nearpoint {

class LivePicture;
class MeasureView;

class MeasurePage : public Page {
  Q_OBJECT

 public:
  explicit MeasurePage(AppContext& context, QWidget* parent = nullptr);
  ~MeasurePage() override;

  [[nodiscard]] PageId WayOut() const override;
  [[nodiscard]] bool TakesEveryPress() const override { return true; }
  void TakePress() override;

  // For tests and pictures.
  [[nodiscard]] const MeasureFlow& flow() const { return flow_; }

 protected:
  MeasurePage(AppContext& context, std::unique_ptr<TrialKeeper> keeper, QWidget* parent);

 private:
  enum class Stage { kBefore, kRunning, kBroken };

  void Begin();
  void OnStarted();
  void OnFrame(const LiveFrame& frame);
  void OnPatientPress();
  void OnFailed(const Error& error);
  void Report(Time time);
  void JudgeTrialThatEnded();
  void TakeJudgement();
  void TrialEnded();
  void PhaseMayHaveChanged();

  Stage stage_ = Stage::kBefore;
  std::unique_ptr<TrialKeeper> keeper_;
  MeasureFlow flow_;
  FlowPhase shown_phase_ = FlowPhase::kFind;
  bool card_comes_ = false;  // the card is brought to the face
  MeasureView* view_;
  // Filled by the thread that judges, read by this one when that is done.
  std::shared_ptr<std::optional<JudgedTrial>> judged_ =
      std::make_shared<std::optional<JudgedTrial>>();
  InBackground judge_;
};

}  // namespace nearpoint
