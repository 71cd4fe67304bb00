// A sheet of labels for wristbands: the QR code, the number, and the first name to hand it out by.
#pragma once

#include <string>

#include "app/event/event_state.h"
#include "app/print/paper.h"

namespace nearpoint {

// One label of 60 by 36 mm for each child that is still to be measured, in the order of the
// list: not for one who was, nor for one whose parents said no; the
// code is 28 mm wide. The code holds the event and the number, nothing about the child. Errors:
// kInsufficient (nobody is left), kNotWritable.
[[nodiscard]] Result<std::string> WristbandsPdf(const EventState& state,
                                                PaperSize paper = PaperSize::kA4);

}  // namespace nearpoint
