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

// Laid on a bank card, and by eye as large: 0.3 mm of 85.60 (our own judgement).
inline constexpr double kComparedPrintSd = 0.0035;

// The print of this profile's card.
[[nodiscard]] inline PrintScale PrintOf(const Profile& profile) {
  if (!profile.made.print) return {1, 1, kUncheckedPrintSd};
  return profile.print.value_or(PrintScale{1, 1, kComparedPrintSd});
}

// Factor from a length measured with the card, its print taken to be true, to the real length.
[[nodiscard]] inline double LengthFactor(const PrintScale& print) {
  return (print.width + print.height) / 2;
}

}  // namespace nearpoint
