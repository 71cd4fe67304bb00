#include "app/records/estimate_csv.h"

#include <algorithm>
#include <charconv>
#include <functional>
#include <optional>
#include <span>
#include <sstream>

namespace nearpoint {
namespace {

constexpr std::string_view kHeader = "break_mm,recovery_mm,censored";
constexpr std::string_view kDiaryHeader = "measured_at,break_mm,recovery_mm,censored";
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
  return at;
}

// cells: three, break_mm first.
Result<Trial> ParseTrial(std::span<const std::string_view> cells, const std::string& where) {
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

std::string_view WithoutMark(std::string_view text) {
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  return text;
}

// Hands every line that is not blank to take, which may refuse.
Result<void> ForEachRow(std::string_view text, const std::string& where, std::string_view header,
                        const std::function<Result<void>(std::span<const std::string_view>,
                                                         const std::string&)>& take) {
  std::istringstream in{std::string(WithoutMark(text))};
  std::string line;
  std::getline(in, line);
  const std::vector<std::string_view> expected = Cells(header);
  if (!std::ranges::equal(Cells(line), expected)) {
    return Fail(ErrorCode::kBadValue, where + ", line 1: the header is not as expected: \"" +
                                          std::string(header) + "\".");
  }
  bool any = false;
  for (int number = 2; std::getline(in, line); ++number) {
    if (Trim(line).empty()) continue;
    const std::string place = where + ", line " + std::to_string(number);
    const std::vector<std::string_view> cells = Cells(line);
    if (cells.size() != expected.size()) {
      return Fail(ErrorCode::kBadValue, place + ": " + std::to_string(cells.size()) +
                                            " values; expected " +
                                            (expected.size() == 3 ? "three" : "four") +
                                            ", separated by commas, decimals with a point.");
    }
    if (auto taken = take(cells, place); !taken) return taken;
    any = true;
  }
  if (any) return {};
  return Fail(ErrorCode::kBadValue,
              where + ": there is no trial in it; expected one a line after the header.");
}

Result<void> RefuseCentimetres(std::span<const Trial> trials, const std::string& where) {
  if (!std::ranges::all_of(trials, [](const Trial& t) { return BreakMm(t) < kCentimetresBelow; })) {
    return {};
  }
  return Fail(ErrorCode::kBadValue, where +
                                        ": every \"break_mm\" is below 20; expected millimetres, "
                                        "and these look like centimetres.");
}

}  // namespace

Result<std::vector<Trial>> ParseTrialsCsv(std::string_view text, const std::string& where) {
  std::vector<Trial> trials;
  const auto read = ForEachRow(
      text, where, kHeader,
      [&trials](std::span<const std::string_view> cells, const std::string& place) -> Result<void> {
        auto trial = ParseTrial(cells, place);
        if (!trial) return tl::unexpected(trial.error());
        trial->number = static_cast<int>(trials.size()) + 1;
        trials.push_back(*std::move(trial));
        return {};
      });
  if (!read) return tl::unexpected(read.error());
  if (auto unit = RefuseCentimetres(trials, where); !unit) return tl::unexpected(unit.error());
  return trials;
}

Result<std::vector<DiarySession>> ParseDiaryCsv(std::string_view text, const std::string& where) {
  std::vector<DiarySession> sessions;
  std::vector<Trial> all;
  const auto read = ForEachRow(
      text, where, kDiaryHeader,
      [&](std::span<const std::string_view> cells, const std::string& place) -> Result<void> {
        auto moment = ParseMoment(cells[0]);
        if (!moment) return Refuse(place, "measured_at", cells[0], moment.error().message);
        auto trial = ParseTrial(cells.subspan(1), place);
        if (!trial) return tl::unexpected(trial.error());
        auto session = std::ranges::find_if(
            sessions, [&](const DiarySession& s) { return s.started_at.text == moment->text; });
        if (session == sessions.end()) {
          sessions.push_back({*std::move(moment), {}});
          session = sessions.end() - 1;
        }
        trial->number = static_cast<int>(session->trials.size()) + 1;
        all.push_back(*trial);
        session->trials.push_back(*std::move(trial));
        return {};
      });
  if (!read) return tl::unexpected(read.error());
  if (auto unit = RefuseCentimetres(all, where); !unit) return tl::unexpected(unit.error());
  return sessions;
}

bool LooksLikeDiary(std::string_view text) {
  text = WithoutMark(text);
  return Cells(text.substr(0, text.find('\n'))).front() == "measured_at";
}

}  // namespace nearpoint
