#include "app/exchange/session_items.h"

#include <charconv>

namespace nearpoint {
namespace {

constexpr std::string_view kMiddle = ".trial-";
constexpr std::string_view kEnd = ".jsonl";
constexpr std::string_view kPictureEnd = ".jpg";
constexpr int kMostTrials = 100000;

// "stem.trial-2".
std::optional<std::pair<std::string, int>> StemAndTrial(std::string_view name) {
  const auto middle = name.rfind(kMiddle);
  if (middle == std::string_view::npos || middle == 0) return std::nullopt;
  const std::string_view digits = name.substr(middle + kMiddle.size());
  int trial = 0;
  const auto [end, code] = std::from_chars(digits.data(), digits.data() + digits.size(), trial);
  if (code != std::errc() || end != digits.data() + digits.size()) return std::nullopt;
  if (trial < 1 || trial > kMostTrials) return std::nullopt;
  return std::pair(std::string(name.substr(0, middle)), trial);
}

}  // namespace

std::string StemOf(std::string_view session_name) {
  constexpr std::string_view kJson = ".json";
  if (session_name.ends_with(kJson)) session_name.remove_suffix(kJson.size());
  return std::string(session_name);
}

std::string TrackName(std::string_view session_name, int trial) {
  return StemOf(session_name) + std::string(kMiddle) + std::to_string(trial) + std::string(kEnd);
}

std::optional<std::pair<std::string, int>> ParseTrackName(std::string_view name) {
  if (!name.ends_with(kEnd)) return std::nullopt;
  name.remove_suffix(kEnd.size());
  return StemAndTrial(name);
}

std::string PictureName(std::string_view session_name, int trial, EyeMoment moment) {
  return StemOf(session_name) + std::string(kMiddle) + std::to_string(trial) + '.' +
         std::string(ToText(moment)) + std::string(kPictureEnd);
}

std::optional<PictureItem> ParsePictureName(std::string_view name) {
  if (!name.ends_with(kPictureEnd)) return std::nullopt;
  name.remove_suffix(kPictureEnd.size());
  const auto dot = name.rfind('.');
  if (dot == std::string_view::npos) return std::nullopt;
  const auto moment = ParseEyeMoment(name.substr(dot + 1));
  const auto found = StemAndTrial(name.substr(0, dot));
  if (!moment || !found) return std::nullopt;
  return PictureItem{found->first, found->second, *moment};
}

}  // namespace nearpoint
