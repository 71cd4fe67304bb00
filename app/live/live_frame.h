// What the vision thread tells the window about one frame.
#pragma once

#include <QImage>
#include <optional>
#include <string>

#include "vision/core/distance_sample.h"

namespace nearpoint {

struct LiveFrame {
  DistanceSample sample;
  // Mean brightness of the middle of the picture, 0 black .. 1 white, as shown on a screen.
  double brightness = 0;
  std::int64_t skipped_before = 0;  // frames that were lost before this one
  // At most 25 a second, at most 640 pixels wide, mirrored as in a mirror; else null.
  QImage preview;
  // Both eyes as JPEG (eye_strip.h), as often as the preview; empty where nobody asked for it.
  std::string eye_strip;
  // What a simulated patient sees just now; absent for people.
  std::optional<bool> sees_two;
};

// The practice patient's own press of the key, in the order of the frames.
struct LivePress {
  Time time{};
};

}  // namespace nearpoint
