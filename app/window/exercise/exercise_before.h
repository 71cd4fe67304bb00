// What is read before an exercise: how it goes, when to stop, and what is planned for today.
#pragma once

#include <QWidget>
#include <initializer_list>
#include <optional>

#include "app/exercise/diary.h"
#include "app/exercise/plan.h"

class QLabel;
class QVBoxLayout;

namespace nearpoint {

class ExerciseBefore : public QWidget {
  Q_OBJECT

 public:
  explicit ExerciseBefore(QWidget* parent = nullptr);
  // level: the number of today's distance in the plan. today: what is due, where there is a plan.
  void SetPlan(const ExercisePlan& plan, int level, std::optional<Reminder> today);
  // What the distances rest on.
  void SetMeasured(bool screen, bool pupils);

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
  QLabel* source_;      // of the plan
  QLabel* published_;   // what is known of exercising alone; where no clinician set the plan
  QLabel* due_;         // where nothing is: the plan is over, or has not begun
  QLabel* stop_rules_;  // of the plan
  QLabel* scale_;
};

}  // namespace nearpoint
