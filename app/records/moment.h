// When a session was measured, as the files have it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "vision/core/result.h"

namespace nearpoint {

// A day on the wall calendar of the place of the measurement and, where known, the time of that
// day. Eyes tire, so the local hour is what matters; the offset from UTC is kept and not used.
struct Moment {
  std::string text;            // as it stood in the file
  double day = 0;              // days since 1970-01-01, whole
  std::optional<double> hour;  // 0 <= hour < 24, local
  // Days with the part of the day that is known; noon where none is.
  [[nodiscard]] double days() const { return day + hour.value_or(12) / 24; }
};

// ISO 8601: "2026-03-02", "2026-03-02T07:45", with seconds or without, with "Z", "+01:00" or
// neither behind it; a blank may stand for the T. Years 1900 to 2199. kBadValue says what was
// expected; the caller names the place.
[[nodiscard]] Result<Moment> ParseMoment(std::string_view text);

}  // namespace nearpoint
