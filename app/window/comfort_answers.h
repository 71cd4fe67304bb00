// "How do your eyes feel now?" with its answers, after a measurement and after an exercise.
#pragma once

#include "app/window/answers.h"

namespace nearpoint {

// Answers "fine", "tired", "discomfort", "double": as the store has them.
[[nodiscard]] Answers* NewComfortAnswers();
[[nodiscard]] QString ComfortQuestion();

}  // namespace nearpoint
