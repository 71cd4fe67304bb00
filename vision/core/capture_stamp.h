// When one picture of a camera was taken, as its driver says, and when it was there for the
// program: both on the monotonic clock.
#pragma once

#include "vision/core/units.h"

namespace nearpoint {

struct CaptureStamp {
  Time taken{};
  Time arrived{};
};

}  // namespace nearpoint
