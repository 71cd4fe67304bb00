// One plain sentence beside results that can be held against results of another plane: a session at
// home counts from the cornea, a school event from where its rule says.
#pragma once

#include <string>

#include "app/measure/planes.h"
#include "app/safety/words_in.h"

namespace nearpoint {

// "... a near point counted from the spectacle plane is 1.4 cm smaller."; empty where both are one
// plane.
[[nodiscard]] std::string PlaneNote(ReferencePlane shown, ReferencePlane other, WordsIn words);

}  // namespace nearpoint
