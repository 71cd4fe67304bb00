// What is read before an exercise: how it goes, when to stop, and what is planned for today.
#pragma once

#include <QWidget>
#include <initializer_list>

#include "app/exercise/plan.h"

class QLabel;
class QVBoxLayout;

namespace nearpoint {

class ExerciseBefore : public QWidget {
  Q_OBJECT

 public:
  explicit ExerciseBefore(QWidget* parent = nullptr);
  // level: the number of today's distance in the plan.
  void SetPlan(const ExercisePlan& plan, int level, bool screen_measured);

 signals:
  void Easier();
  void Harder();
  void ScreenWanted();  // its size
  void SheetWanted();

 private:
  struct Action {
    QString name, text;
    void (ExerciseBefore::*act)();
  };
  void AddActions(QVBoxLayout* column, std::initializer_list<Action> actions);

  QLabel* today_;
  QLabel* scale_;
};

}  // namespace nearpoint
