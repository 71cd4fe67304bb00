// How far lengths are to be trusted that were measured with a printed card: as its print was
// measured (print_check.h), and as printers go where nobody measured it.
#pragma once

#include "calibration/profile.h"

namespace nearpoint {

// Nobody measured it. A printer that fits to the page shrinks: A4 onto Letter to 279.4 / 297 =
// 94.1 %, Letter onto A4 to 210 / 215.9 = 97.3 %, A4 into margins of a quarter inch to 94.0 %
// (computed). Any size from 93 to 100 % taken as equally likely is off by 4.0 % (root mean square);
// that is our own judgement.
inline constexpr double kUncheckedPrintSd = 0.04;

// By a ruler at the line of 100 mm, read to half a millimetre (our own judgement).
inline constexpr double kRulerPrintSd = 0.003;

// A size and the day when it was measured; the one without the other is nobody's measurement.
[[nodiscard]] inline bool PrintIsMeasured(const Profile& profile) {
  return profile.made.print && profile.print;
}

// The print of this profile's card.
[[nodiscard]] inline PrintScale PrintOf(const Profile& profile) {
  return PrintIsMeasured(profile) ? *profile.print : PrintScale{1, 1, kUncheckedPrintSd};
}

// Added to how the face was measured where it was not.
inline constexpr const char* kPrintNotMeasured = ", print not measured";

// Factor from a length measured with the card, its print taken to be true, to the real length.
[[nodiscard]] inline double LengthFactor(const PrintScale& print) {
  return (print.width + print.height) / 2;
}

}  // namespace nearpoint
