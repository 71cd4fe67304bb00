// The guided exercise: cautions and plan, the size of the screen, the repetitions, the numbers, and
// how the eyes feel.
#pragma once

#include <QElapsedTimer>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "app/exercise/practice_eyes.h"
#include "app/live/live.h"
#include "app/window/answer_guard.h"
#include "app/window/exercise/exercise_session.h"
#include "app/window/page.h"

class QLabel;
class QPushButton;
class QTimer;

namespace nearpoint {

class ExerciseAfter;
class ExerciseBefore;
class PairStage;
class RepetitionRow;
class ScreenCard;

class ExercisePage : public Page {
  Q_OBJECT

 public:
  // Where samples come from: the camera (or the simulated person of the practice), or whoever calls
  // OnSample; the latter for tests and pictures.
  enum class Feed { kOwn, kGiven };
  enum class Stage { kBefore, kScreen, kRunning, kBroken, kAfter };

  explicit ExercisePage(AppContext& context, QWidget* parent = nullptr, Feed feed = Feed::kOwn);
  ~ExercisePage() override;

  [[nodiscard]] bool TakesEveryPress() const override { return stage_ == Stage::kRunning; }
  void TakePress() override;

  void OnSample(const DistanceSample& sample);
  void OnFailed(const Error& error);
  [[nodiscard]] Stage stage() const { return stage_; }
  [[nodiscard]] const ExerciseSession& session() const { return session_; }

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  void MakeBefore();
  void MakeScreen();
  void MakeRunning();
  void AddStageAside(Stage stage, const QString& name, const QString& text,
                     void (ExercisePage::*act)());
  void Leave();
  void Next();
  void SkipScreen();
  void Go(Stage stage);
  void ShowFooter(bool shown);
  void ScrollToTop();
  void Begin();
  void Run();
  void Heard(const CounterUpdate& update);
  void Refresh();
  void SayTiredness();
  void MarkMissing();
  void OtherLevel(int step);
  void StopEarly();
  void Finish();
  void PrintSheet();
  void Answer(const QString& comfort);
  void UpdateSurface();
  void RefreshPlan();
  [[nodiscard]] Time Now() const;

  Feed feed_;
  Stage stage_ = Stage::kBefore;
  ExerciseSession session_;
  AnswerGuard guard_;
  bool ended_ = false;  // with an answer to how the eyes feel
  ExerciseBefore* before_ = nullptr;
  QWidget* screen_ = nullptr;
  QWidget* running_ = nullptr;
  ExerciseAfter* after_ = nullptr;
  QLabel* trouble_ = nullptr;
  PairStage* pair_stage_ = nullptr;
  RepetitionRow* repetitions_ = nullptr;
  ScreenCard* card_ = nullptr;
  QLabel* large_ = nullptr;
  QLabel* line_ = nullptr;
  QLabel* warning_ = nullptr;
  QPushButton* next_ = nullptr;
  // At the beginning of the footer, each for one stage.
  std::vector<std::pair<Stage, QPushButton*>> asides_;

  // The simulated person of the practice.
  std::unique_ptr<QTimer> timer_;
  QElapsedTimer clock_;
  PracticeEyes practice_eyes_;

  std::optional<CounterPhase> said_phase_;
  std::optional<CounterWarning> said_warning_;
  bool said_tired_ = false;
  Time warned_at_{};
  Time last_sample_{};
};

}  // namespace nearpoint
