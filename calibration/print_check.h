// Whether the sheet is printed to scale: the pattern against a real card that lies beside it, or
// the printed ruler against a real one. A print that was fitted to the page has the right shape and
// the wrong size, and nothing else could tell.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "calibration/adjust_camera.h"
#include "calibration/card_view.h"
#include "calibration/profile.h"
#include "vision/core/result.h"

namespace nearpoint {

// pattern and real_card from one picture, the real card flat on the sheet. The camera may be one
// that was calibrated with this very pattern: its size does not matter there. The card's face lies
// 0.76 mm over the paper. Errors: kInsufficient where either cannot be placed, the view is tilted
// by more than 25 degrees (walls of the card), or the card does not lie flat beside the pattern.
[[nodiscard]] Result<PrintScale> MeasurePrint(const CardView& pattern, const CardView& real_card,
                                              const CameraIntrinsics& camera);

// From the printed 100 mm line as a person read it with a ruler, to half a millimetre. Errors:
// kBadValue outside 50 to 150 mm.
[[nodiscard]] Result<PrintScale> PrintScaleFromRuler(double measured_mm);

// How the print was measured, in words for the profile: "ruler, 99.5 %".
enum class PrintMeasure { kRuler, kCard };
[[nodiscard]] std::string PrintMethod(const PrintScale& scale, PrintMeasure how);

// Height of the print by what its width demands, less one, and one standard deviation.
struct PrintAspect {
  double off = 0, sd = 0;
};
// Of several pictures of one card, each alike in part: the deviation does not fall below the least
// of one picture by more than half. nullopt: none.
[[nodiscard]] std::optional<PrintAspect> MeanAspect(std::span<const PrintAspect> pictures);
// kMismatch for a print that was stretched, or a pattern on a card of another shape: more than 1.5
// % off, and more than its deviations allow.
[[nodiscard]] Result<void> CheckAspect(const PrintAspect& aspect);

// kMismatch, with the percentage, unless the print is true to 0.6 %; within that, the paper itself
// (moisture, feed of the printer) is no better. kInsufficient where the deviation is too large to
// say.
[[nodiscard]] Result<void> CheckPrint(const PrintScale& scale);

}  // namespace nearpoint
