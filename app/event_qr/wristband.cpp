#include "app/event_qr/wristband.h"

#include <algorithm>
#include <cctype>

namespace nearpoint {
namespace {

constexpr std::string_view kMark = "NP:";
constexpr std::size_t kEventDigits = 8;

// Capitals alone make a smaller QR code.
std::string Capitals(std::string_view text) {
  std::string capitals(text);
  std::ranges::transform(capitals, capitals.begin(),
                         [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return capitals;
}

}  // namespace

std::string WristbandText(std::string_view event, std::string_view number) {
  return std::string(kMark) + Capitals(event.substr(0, kEventDigits)) + ":" + std::string(number);
}

std::optional<Wristband> ReadWristband(std::string_view text, std::string_view event) {
  if (!text.starts_with(kMark)) return std::nullopt;
  text.remove_prefix(kMark.size());
  if (text.size() < kEventDigits + 2 || text[kEventDigits] != ':') return std::nullopt;
  Wristband band;
  band.of_this_event = text.substr(0, kEventDigits) == Capitals(event.substr(0, kEventDigits));
  band.number = text.substr(kEventDigits + 1);
  return band;
}

}  // namespace nearpoint
