// Reads ahead on a thread of its own, so that decoding (or drawing) one frame and tracking the last
// go side by side.
#pragma once

#include <cstddef>
#include <memory>

#include "vision/camera/frame_source.h"

namespace nearpoint {

// Same frames, same order, same errors as `source`; nothing is dropped. At most `depth` frames wait
// (>= 1). Made for recordings: a live source has a thread already and must not be queued.
[[nodiscard]] std::unique_ptr<FrameSource> ReadAhead(std::unique_ptr<FrameSource> source,
                                                     std::size_t depth = 4);

}  // namespace nearpoint
