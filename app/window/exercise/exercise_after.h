// The numbers of an exercise that is over, and how the eyes feel.
#pragma once

#include <QWidget>
#include <vector>

#include "app/exercise/summary.h"

class QLabel;
class QPushButton;

namespace nearpoint {

class ExerciseAfter : public QWidget {
  Q_OBJECT

 public:
  ExerciseAfter(const ExerciseSummary& summary, bool practice, QWidget* parent = nullptr);
  // The first answer has the keyboard.
  void Ask();
  // The question has been answered and something else is to be read.
  void HideQuestion();

 signals:
  void Answered(const QString& comfort);  // "fine", "tired", "discomfort", "double"

 private:
  QLabel* question_;
  std::vector<QPushButton*> choices_;
};

}  // namespace nearpoint
