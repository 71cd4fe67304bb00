// What every fuzz target has: one function that takes bytes from anywhere and must come back.
//
// Two ways to run it. With Clang's libFuzzer (cmake -DNEARPOINT_FUZZ=ON, DEVELOPERS.md says how),
// which searches; and replayed in the ordinary tests over the corpus and simple damage to it.
#pragma once

#include <cstdlib>
#include <string_view>

// Defined once by each target.
void FuzzOne(std::string_view input);

// A property that holds for every input; without it the run ends.
inline void Require(bool holds) {
  if (!holds) std::abort();
}
