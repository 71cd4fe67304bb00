// A plan from the clinic: shown first, used when the person says so.
#pragma once

#include <optional>

#include "app/exercise/plan.h"
#include "app/window/page.h"
#include "vision/core/result.h"

class QPushButton;
class QVBoxLayout;

namespace nearpoint {

class PlanFilePage : public Page {
  Q_OBJECT

 public:
  explicit PlanFilePage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override;
  // Reads a sealed plan, or a bare EXERCISE-PLAN.json, and shows it.
  void Load(const QString& file);

 private:
  struct Loaded {
    ExercisePlan plan;
    QString from;  // the clinic whose seal it carries; empty: no seal
  };
  [[nodiscard]] Result<Loaded> Read(const QString& file) const;
  void ShowPlan(const Loaded& loaded);
  void Use();

  std::optional<ExercisePlan> plan_;
  QVBoxLayout* shown_ = nullptr;
  QPushButton* choose_ = nullptr;
  QPushButton* use_ = nullptr;
};

}  // namespace nearpoint
