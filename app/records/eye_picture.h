// A picture of the eyes at a moment of a trial, as it is kept and sent.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace nearpoint {

enum class EyeMoment { kBreak, kRecovery };

struct EyePicture {
  int trial = 0;  // its number
  EyeMoment moment = EyeMoment::kBreak;
  std::string jpeg;
};

// The words that stand in files: "break", "recovery".
[[nodiscard]] constexpr std::string_view ToText(EyeMoment moment) {
  return moment == EyeMoment::kBreak ? "break" : "recovery";
}
[[nodiscard]] constexpr std::optional<EyeMoment> ParseEyeMoment(std::string_view text) {
  if (text == ToText(EyeMoment::kBreak)) return EyeMoment::kBreak;
  if (text == ToText(EyeMoment::kRecovery)) return EyeMoment::kRecovery;
  return std::nullopt;
}

// Whether these bytes can be such a picture: a JPEG of at most 60 kB whose header says that it is
// grey and no larger than 320 by 160. Nothing is decoded.
[[nodiscard]] bool IsEyePicture(std::string_view jpeg);

}  // namespace nearpoint
