// The trials of the session at a glance: counted, set aside, and the one that runs.
#pragma once

#include <QWidget>
#include <vector>

#include "app/measure/trial.h"

namespace nearpoint {

class TrialDots : public QWidget {
  Q_OBJECT

 public:
  explicit TrialDots(QWidget* parent = nullptr);
  // least: how many must count before there is an answer.
  void SetTrials(const std::vector<Trial>& trials, int least);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  std::vector<bool> counted_;
  int wanted_ = 0;  // still to come, at least
};

}  // namespace nearpoint
