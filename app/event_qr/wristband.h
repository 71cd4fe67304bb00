// What stands in the QR code of a wristband: which event, which number; nothing about the child.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace nearpoint {

// "NP:1A2B3C4D:12": the first eight digits of the event's id, then the number.
[[nodiscard]] std::string WristbandText(std::string_view event, std::string_view number);

struct Wristband {
  std::string number;
  bool of_this_event = true;
};
// nullopt where it is no wristband of ours; a plain number is left to whoever asks.
[[nodiscard]] std::optional<Wristband> ReadWristband(std::string_view text, std::string_view event);

}  // namespace nearpoint
