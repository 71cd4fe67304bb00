#include "app/records/estimate_csv.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <optional>
#include <sstream>

namespace nearpoint {
namespace {

constexpr std::string_view kHeader = "break_mm,recovery_mm,censored";
constexpr double kCentimetresBelow = 20;

std::string_view Trim(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\"");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\"") - first + 1);
}

std::vector<std::string_view> Cells(std::string_view line) {
  std::vector<std::string_view> cells;
  for (;;) {
    const auto comma = line.find(',');
    cells.push_back(Trim(line.substr(0, comma)));
    if (comma == std::string_view::npos) return cells;
    line.remove_prefix(comma + 1);
  }
}

tl::unexpected<Error> Refuse(const std::string& where, std::string_view name, std::string_view cell,
                             const std::string& expected) {
  return Fail(ErrorCode::kBadValue, where + ": \"" + std::string(name) + "\" is " +
                                        (cell.empty() ? "empty" : '"' + std::string(cell) + '"') +
                                        "; expected " + expected + ".");
}

Result<double> Millimetres(const std::string& where, std::string_view name, std::string_view cell) {
  double value = 0;
  const auto [end, code] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (code != std::errc() || end != cell.data() + cell.size() || !(value >= 1 && value <= 3000)) {
    return Refuse(where, name, cell, "millimetres from 1 to 3000");
  }
  return value;
}

EventDistance Reading(double mm) {
  EventDistance at;
  at.value = {Length::Millimeters(mm), Length()};
  at.uncorrected = at.value.value;
  return at;
}

Result<Trial> ParseTrial(std::string_view line, const std::string& where) {
  const std::vector<std::string_view> cells = Cells(line);
  if (cells.size() != 3) {
    return Fail(ErrorCode::kBadValue, where + ": " + std::to_string(cells.size()) +
                                          " values; expected three, separated by commas, decimals "
                                          "with a point.");
  }
  Trial trial;
  if (cells[2] == "below") {
    trial.censored = Censoring::kBelow;
  } else if (cells[2] == "above") {
    trial.censored = Censoring::kAbove;
  } else if (!cells[2].empty()) {
    return Refuse(where, "censored", cells[2], "\"below\", \"above\" or nothing");
  }
  const auto break_mm = Millimetres(where, "break_mm", cells[0]);
  if (!break_mm) return tl::unexpected(break_mm.error());
  if (trial.censored == Censoring::kNone) {
    trial.break_point = Reading(*break_mm);
  } else {
    trial.limit = Length::Millimeters(*break_mm);
  }
  if (!cells[1].empty()) {
    const auto recovery_mm = Millimetres(where, "recovery_mm", cells[1]);
    if (!recovery_mm) return tl::unexpected(recovery_mm.error());
    trial.recovery = Reading(*recovery_mm);
  }
  return trial;
}

double BreakMm(const Trial& trial) {
  return trial.limit ? trial.limit->mm() : trial.break_point->value.value.mm();
}

}  // namespace

Result<std::vector<Trial>> ParseTrialsCsv(std::string_view text, const std::string& where) {
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  std::istringstream in{std::string(text)};
  std::string line;
  std::getline(in, line);
  constexpr std::array<std::string_view, 3> kNames{"break_mm", "recovery_mm", "censored"};
  const std::vector<std::string_view> names = Cells(line);
  if (!std::equal(names.begin(), names.end(), kNames.begin(), kNames.end())) {
    return Fail(ErrorCode::kBadValue, where + ", line 1: the header is not as expected: \"" +
                                          std::string(kHeader) + "\".");
  }
  std::vector<Trial> trials;
  for (int number = 2; std::getline(in, line); ++number) {
    if (Trim(line).empty()) continue;
    auto trial = ParseTrial(line, where + ", line " + std::to_string(number));
    if (!trial) return tl::unexpected(trial.error());
    trial->number = static_cast<int>(trials.size()) + 1;
    trials.push_back(*std::move(trial));
  }
  if (trials.empty()) {
    return Fail(ErrorCode::kBadValue,
                where + ": there is no trial in it; expected one a line after the header.");
  }
  const bool centimetres = std::all_of(trials.begin(), trials.end(), [](const Trial& trial) {
    return BreakMm(trial) < kCentimetresBelow;
  });
  if (centimetres) {
    return Fail(ErrorCode::kBadValue, where +
                                          ": every \"break_mm\" is below 20; expected millimetres, "
                                          "and these look like centimetres.");
  }
  return trials;
}

}  // namespace nearpoint
