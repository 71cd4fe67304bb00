// What the measurement looks like. Decides nothing.
#pragma once

#include <QWidget>
#include <vector>

#include "app/guide/measure_flow.h"
#include "app/window/words.h"

class QHBoxLayout;
class QLabel;
class QVBoxLayout;

namespace nearpoint {

class LivePicture;
class PaceGuide;
class PerceptPicture;
class TrialDots;

class MeasureView : public QWidget {
  Q_OBJECT

 public:
  // target: "printed" under the lens, or "screen": then the letter stands at the top of this view,
  // as fine as a screen of such dots (0: unknown) shows it.
  MeasureView(bool practice, const QString& target, double mm_per_dot, QWidget* parent = nullptr);

  void ShowInstructions();
  void ShowRunning();
  void ShowBroken(const words::Prompt& prompt, const QString& detail);
  // Something that does not end the measurement but must be read.
  void ShowTrouble(const QString& sentence);
  void SetPrompt(const words::Prompt& prompt);
  void SetState(const FlowState& state);
  void SetTrials(const std::vector<Trial>& trials);
  void SetPreview(const QImage& preview);
  void SetPercept(bool two);  // of the simulated person
  void ShowHeard(bool two);   // a press was understood

 protected:
  void resizeEvent(QResizeEvent* event) override;

 private:
  void PlacePreview();
  void FitHeight();
  QWidget* MakeInstructions(bool practice, bool card_comes);
  QWidget* MakeRunning(bool practice, const QString& target, double mm_per_dot);

  bool broken_ = false;
  bool finding_ = false;  // nothing is known of the eyes
  bool low_ = false;  // a low window, or large text: the lane and what is seen come before words
  QWidget* instructions_;
  QWidget* running_;
  QVBoxLayout* column_ = nullptr;
  int above_ = 0, below_ = 0;    // the places in it that stretch
  QHBoxLayout* top_ = nullptr;   // headline; in a low window what the simulated person sees, too
  QVBoxLayout* sees_ = nullptr;  // else that stands here
  QLabel* caption_ = nullptr;
  QLabel* headline_ = nullptr;
  QLabel* line_ = nullptr;
  QLabel* rest_ = nullptr;
  QLabel* detail_ = nullptr;
  QLabel* trouble_ = nullptr;
  QLabel* heard_ = nullptr;
  PaceGuide* guide_ = nullptr;
  LivePicture* preview_ = nullptr;
  PerceptPicture* percept_ = nullptr;
  TrialDots* dots_ = nullptr;
};

}  // namespace nearpoint
