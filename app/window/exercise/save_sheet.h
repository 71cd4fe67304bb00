// The printed exercise of this person, at true scale.
#pragma once

#include "app/exercise/pair_geometry.h"
#include "app/exercise/plan.h"
#include "vision/core/result.h"

class QWidget;

namespace nearpoint {

// Asks for a file and writes it there. Nothing is done when the person chooses none.
[[nodiscard]] Result<void> SaveExerciseSheet(QWidget* over, const ExercisePlan& plan,
                                             const UncertainLength& pupils);

}  // namespace nearpoint
