// How the eyes feel after an exercise, and its numbers.
#pragma once

#include <QWidget>

#include "app/exercise/summary.h"

class QLabel;

namespace nearpoint {

class Answers;

class ExerciseAfter : public QWidget {
  Q_OBJECT

 public:
  ExerciseAfter(const ExerciseSummary& summary, bool practice, QWidget* parent = nullptr);
  // The question has been answered and something else is to be read.
  void HideQuestion();

 signals:
  void Answered(const QString& comfort);  // "fine", "tired", "discomfort", "double"

 private:
  QLabel* question_;
  Answers* answers_;
};

}  // namespace nearpoint
