#include "calibration/lag_task.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <random>
#include <utility>

namespace nearpoint {
namespace {

constexpr double kEarliestMs = 100;
constexpr double kLatestMs = 1500;
constexpr double kOutlierDeviations = 3;
// Nobody presses more evenly than this; ten presses that happen to agree must not make the rule
// strict.
constexpr double kLeastSpreadMs = 25;
constexpr int kLeastPresses = 7;

double Median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  if (values.size() % 2 == 1) return *middle;
  return (*middle + *std::max_element(values.begin(), middle)) / 2;
}

std::string Count(int number, const char* what) { return std::to_string(number) + " " + what; }

// The reasons that occurred, for the sentence.
std::string Reasons(const std::vector<PressUse>& uses) {
  std::string text;
  for (const auto& [use, name] : {std::pair{PressUse::kTooEarly, "too early"},
                                  {PressUse::kTooLate, "too late"},
                                  {PressUse::kMissed, "missed"},
                                  {PressUse::kOutlier, "far from the others"}}) {
    const auto number = static_cast<int>(std::ranges::count(uses, use));
    if (number == 0) continue;
    text += (text.empty() ? "" : ", ") + Count(number, name);
  }
  return text;
}

std::optional<double> ParseNumber(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\r')) text.remove_suffix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value) ||
      std::abs(value) > 1e12) {
    return std::nullopt;
  }
  return value;
}

}  // namespace

std::vector<Time> DrawForeperiods(int count, std::uint64_t seed) {
  constexpr double kShortestMs = 1500, kLongestMs = 4500, kMeanMs = 1000;
  std::mt19937_64 random(seed);
  std::vector<Time> times;
  times.reserve(static_cast<std::size_t>(std::max(0, count)));
  for (int i = 0; i < count; ++i) {
    // The inverse of the distribution, cut off at the longest; the library's own distributions
    // differ from one library to the next.
    const double u = static_cast<double>(random() >> 11) * 0x1.0p-53;
    const double reach = 1 - std::exp(-(kLongestMs - kShortestMs) / kMeanMs);
    times.push_back(FromMilliseconds(kShortestMs - kMeanMs * std::log(1 - u * reach)));
  }
  return times;
}

std::string ToText(PressUse use) {
  switch (use) {
    case PressUse::kCounts:
      return "counts";
    case PressUse::kTooEarly:
      return "too early: pressed before the mark could be seen";
    case PressUse::kTooLate:
      return "too late: more than 1.5 s after the mark";
    case PressUse::kOutlier:
      return "far from the others";
    case PressUse::kMissed:
      return "missed: no press";
  }
  return "";
}

Result<LagResult> EvaluateLag(std::span<const LagPress> presses, const PipelineDelay& pipeline) {
  LagResult out;
  std::vector<double> usable;
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < presses.size(); ++i) {
    if (i > 0 && presses[i].shown <= presses[i - 1].shown) {
      return Fail(ErrorCode::kBadValue, "Mark " + std::to_string(i + 1) +
                                            " comes before the mark ahead of it; times must rise.");
    }
    if (!presses[i].pressed) {
      out.uses.push_back(PressUse::kMissed);
      continue;
    }
    const double ms = ToMilliseconds(*presses[i].pressed - presses[i].shown);
    if (ms < kEarliestMs) {
      out.uses.push_back(PressUse::kTooEarly);
    } else if (ms > kLatestMs) {
      out.uses.push_back(PressUse::kTooLate);
    } else {
      out.uses.push_back(PressUse::kCounts);
      usable.push_back(ms);
      places.push_back(i);
    }
  }
  std::vector<double> kept;
  if (!usable.empty()) {
    const double median = Median(usable);
    std::vector<double> off;
    off.reserve(usable.size());
    for (const double ms : usable) off.push_back(std::abs(ms - median));
    const double spread = std::max(kLeastSpreadMs, 1.4826 * Median(off));
    for (std::size_t i = 0; i < usable.size(); ++i) {
      if (off[i] > kOutlierDeviations * spread) {
        out.uses[places[i]] = PressUse::kOutlier;
      } else {
        kept.push_back(usable[i]);
      }
    }
  }
  out.counted = static_cast<int>(kept.size());
  if (out.counted < kLeastPresses) {
    const std::string reasons = Reasons(out.uses);
    return Fail(ErrorCode::kInsufficient,
                "Only " + std::to_string(out.counted) + " of " + std::to_string(presses.size()) +
                    " presses count and 7 are needed" +
                    (reasons.empty() ? "" : " (" + reasons + ")") + "; repeat the task.");
  }
  const double n = static_cast<double>(kept.size());
  double mean = 0, squares = 0;
  for (const double ms : kept) mean += ms / n;
  for (const double ms : kept) squares += (ms - mean) * (ms - mean);
  const double sd = std::sqrt(squares / (n - 1));
  out.reaction_mean = FromMilliseconds(mean);
  out.reaction_sd = FromMilliseconds(sd);
  const double lag =
      mean - ToMilliseconds(pipeline.display) + kJudgementMs - ToMilliseconds(pipeline.capture);
  out.lag = FromMilliseconds(std::max(20.0, lag));
  const double of_mean = sd / std::sqrt(n);
  out.lag_sd = FromMilliseconds(std::sqrt(of_mean * of_mean + kJudgementSdMs * kJudgementSdMs +
                                          std::pow(ToMilliseconds(pipeline.display_sd), 2) +
                                          std::pow(ToMilliseconds(pipeline.capture_sd), 2)));
  return out;
}

Result<std::vector<LagPress>> ParseLagCsv(std::string_view text, const std::string& where) {
  std::vector<LagPress> presses;
  int number = 0;
  bool header = false;
  while (!text.empty()) {
    const auto end = text.find('\n');
    std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    ++number;
    if (line.find_first_not_of(" \t") == std::string_view::npos) continue;
    const std::string at = where + ", line " + std::to_string(number) + ": ";
    if (!header) {
      if (line.substr(0, 3) == "\xEF\xBB\xBF") line.remove_prefix(3);
      if (line != "shown_ms,pressed_ms") {
        return Fail(ErrorCode::kBadValue, at + "expected the header shown_ms,pressed_ms.");
      }
      header = true;
      continue;
    }
    const auto comma = line.find(',');
    const auto shown = ParseNumber(line.substr(0, comma));
    const std::string_view rest =
        comma == std::string_view::npos ? std::string_view("?") : line.substr(comma + 1);
    const bool missed = rest.find_first_not_of(" \t") == std::string_view::npos;
    const auto pressed = missed ? std::nullopt : ParseNumber(rest);
    if (!shown || (!missed && !pressed)) {
      return Fail(
          ErrorCode::kBadValue,
          at + "expected two times in milliseconds, the second empty where nobody pressed.");
    }
    LagPress press{FromMilliseconds(*shown), std::nullopt};
    if (pressed) press.pressed = FromMilliseconds(*pressed);
    presses.push_back(press);
  }
  if (!header) {
    return Fail(ErrorCode::kBadValue,
                where + " is empty; expected the header shown_ms,pressed_ms.");
  }
  return presses;
}

}  // namespace nearpoint
