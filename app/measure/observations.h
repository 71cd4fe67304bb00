// From trials to what a likelihood takes.
#pragma once

#include <span>
#include <vector>

#include "app/measure/likelihood.h"
#include "app/measure/trial.h"

namespace nearpoint {

// The trial says something of the break: a finite distance, or a finite bound when censored.
[[nodiscard]] bool HasBreak(const Trial& trial);

// It says something and is not set aside.
[[nodiscard]] bool Counts(const Trial& trial);

// The square of the deviation of this distance alone; 0 where none is known.
[[nodiscard]] double VarianceOf(const EventDistance& event);

// The breaks of the trials that count, in their order; positions are trial numbers minus their
// mean. A bound has no variance of its own.
[[nodiscard]] std::vector<Observation> BreakObservations(std::span<const Trial> trials);

}  // namespace nearpoint
