// What the measurement looks like. Decides nothing.
#pragma once

#include <QWidget>
#include <vector>

#include "app/guide/measure_flow.h"
#include "app/window/words.h"

class QLabel;

namespace nearpoint {

class LivePicture;
class PaceGuide;
class PerceptPicture;
class TrialDots;

class MeasureView : public QWidget {
  Q_OBJECT

 public:
  // target: "printed" under the lens, or "screen": then the letter stands at the top of this view.
  MeasureView(bool practice, const QString& target, QWidget* parent = nullptr);

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
  QWidget* MakeInstructions(bool practice);
  QWidget* MakeRunning(bool practice, const QString& target);

  bool broken_ = false;
  QWidget* instructions_;
  QWidget* running_;
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
