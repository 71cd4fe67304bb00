#include "app/exchange/research_csv.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

namespace nearpoint {
namespace {

struct Column {
  const char* table;
  const char* name;
  const char* type;
  const char* unit;
  const char* meaning;
};

constexpr const char* kSessions = "sessions";
constexpr const char* kTrials = "trials";

// In the order of the columns; the lines below are written in the same order, and a test counts.
constexpr std::array kColumns{
    Column{kSessions, "person", "text", "", "pseudonym"},
    Column{kSessions, "session", "integer", "", "number of the session, by day"},
    Column{kSessions, "day", "integer", "days", "since the first session; empty: not stated"},
    Column{kSessions, "hour", "number", "hours", "local time of day; empty: not stated"},
    Column{kSessions, "software", "text", "", "name and version that measured"},
    Column{kSessions, "target", "text", "", "what was looked at"},
    Column{kSessions, "plane", "text", "",
           "plane that break, recovery and cut-off are counted from"},
    Column{kSessions, "break_mm", "number", "mm", "break; empty: only a bound is known"},
    Column{kSessions, "break_low_mm", "number", "mm", "lower end of the 95 % band"},
    Column{kSessions, "break_high_mm", "number", "mm", "upper end of the 95 % band; empty: none"},
    Column{kSessions, "recovery_mm", "number", "mm", "recovery"},
    Column{kSessions, "recovery_low_mm", "number", "mm", "lower end of the 95 % band"},
    Column{kSessions, "recovery_high_mm", "number", "mm", "upper end of the 95 % band"},
    Column{kSessions, "trend_mm_per_trial", "number", "mm/trial", "positive: recedes"},
    Column{kSessions, "between_trial_sd_mm", "number", "mm", "standard deviation between trials"},
    Column{kSessions, "calibration_sd_mm", "number", "mm",
           "standard deviation of what is wrong alike in all trials"},
    Column{kSessions, "cut_off_mm", "number", "mm", "limit that the break was held against"},
    Column{kSessions, "answer", "text", "",
           "beyond the cut-off, within the cut-off, cannot tell yet"},
    Column{kSessions, "trials", "integer", "", "trials made"},
    Column{kSessions, "trials_used", "integer", "", "trials that count"},
    Column{kTrials, "person", "text", "", "pseudonym"},
    Column{kTrials, "session", "integer", "", "number of the session"},
    Column{kTrials, "trial", "integer", "", "number of the trial in its session"},
    Column{kTrials, "break_mm", "number", "mm",
           "break from the corneal plane, corrected for lag; of a censored trial its bound"},
    Column{kTrials, "break_sd_mm", "number", "mm", "its standard deviation"},
    Column{kTrials, "break_uncorrected_mm", "number", "mm", "without the correction for lag"},
    Column{kTrials, "censored", "text", "", "below: at most; above: at least; empty: a value"},
    Column{kTrials, "recovery_mm", "number", "mm", "recovery from the corneal plane"},
    Column{kTrials, "recovery_sd_mm", "number", "mm", "its standard deviation"},
    Column{kTrials, "objective_break_mm", "number", "mm",
           "break as seen in the eyes, from the corneal plane"},
    Column{kTrials, "approach_speed_mm_s", "number", "mm/s", "mean over the last stretch"},
    Column{kTrials, "set_aside", "text", "", "rule that set it aside; empty: it counts"},
};

constexpr double kAbsent = std::numeric_limits<double>::quiet_NaN();

// One line of a table; cells are quoted where RFC 4180 asks for it.
class Line {
 public:
  void Text(std::string_view text) {
    Next();
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
      line_ += text;
      return;
    }
    line_ += '"';
    for (const char c : text) {
      if (c == '"') line_ += '"';
      line_ += c;
    }
    line_ += '"';
  }
  void Integer(long long value) { Text(std::to_string(value)); }
  // At most four decimals; empty for what is not finite.
  void Number(double value) {
    if (!std::isfinite(value)) {
      Text("");
      return;
    }
    std::array<char, 64> text{};
    const double rounded = std::round(value * 1e4) / 1e4;
    const auto result = std::to_chars(text.data(), text.data() + text.size(), rounded);
    Text(std::string_view(text.data(), static_cast<std::size_t>(result.ptr - text.data())));
  }
  void Number(const std::optional<double>& value) { Number(value.value_or(kAbsent)); }
  void Number(const std::optional<Length>& length) { Number(length ? length->mm() : kAbsent); }
  [[nodiscard]] std::string End() const { return line_ + "\r\n"; }

 private:
  void Next() {
    if (!first_) line_ += ',';
    first_ = false;
  }
  std::string line_;
  bool first_ = true;
};

std::string Header(std::string_view table) {
  Line line;
  for (const Column& column : kColumns) {
    if (table == column.table) line.Text(column.name);
  }
  return line.End();
}

std::string Dictionary() {
  Line header;
  for (const char* name : {"table", "column", "type", "unit", "meaning"}) header.Text(name);
  std::string text = header.End();
  for (const Column& column : kColumns) {
    Line line;
    line.Text(column.table);
    line.Text(column.name);
    line.Text(column.type);
    line.Text(column.unit);
    line.Text(column.meaning);
    text += line.End();
  }
  return text;
}

void AddBand(Line& line, const std::optional<Band>& band) {
  line.Number(band ? band->value.value_or(kAbsent) : kAbsent);
  line.Number(band ? band->low : kAbsent);
  line.Number(band ? band->high.value_or(kAbsent) : kAbsent);
}

std::string SessionLine(const StoredSession& session, std::string_view person, int number,
                        double first_day) {
  const Estimate& estimate = session.estimate;
  const auto& moment = session.data.started_at;
  Line line;
  line.Text(person);
  line.Integer(number);
  line.Number(moment ? moment->day - first_day : kAbsent);
  line.Number(moment ? moment->hour.value_or(kAbsent) : kAbsent);
  line.Text(session.software.value_or(""));
  line.Text(session.target.value_or(""));
  line.Text(estimate.reference_plane);
  AddBand(line, estimate.break_mm);
  AddBand(line, estimate.recovery_mm);
  line.Number(estimate.trend_mm_per_trial ? estimate.trend_mm_per_trial->value.value_or(kAbsent)
                                          : kAbsent);
  line.Number(estimate.between_trial_sd_mm);
  line.Number(estimate.shared_sd_mm);
  line.Number(estimate.cut_off.mm());
  line.Text(ToText(estimate.answer));
  line.Integer(static_cast<long long>(session.data.trials.size()));
  line.Integer(estimate.trials_used);
  return line.End();
}

std::string TrialLine(const Trial& trial, const std::optional<Length>& objective,
                      std::string_view person, int session) {
  const auto value = [](const std::optional<EventDistance>& at) {
    return at ? at->value.value.mm() : kAbsent;
  };
  const auto sd = [](const std::optional<EventDistance>& at) {
    return at ? at->value.sd.mm() : kAbsent;
  };
  Line line;
  line.Text(person);
  line.Integer(session);
  line.Integer(trial.number);
  if (trial.censored != Censoring::kNone) {
    line.Number(trial.limit);
    line.Number(kAbsent);
    line.Number(kAbsent);
  } else {
    const bool corrected = trial.break_point && trial.break_point->uncorrected.mm() > 0;
    line.Number(value(trial.break_point));
    line.Number(sd(trial.break_point));
    line.Number(corrected ? trial.break_point->uncorrected.mm() : kAbsent);
  }
  line.Text(ToText(trial.censored));
  line.Number(value(trial.recovery));
  line.Number(sd(trial.recovery));
  line.Number(objective);
  line.Number(trial.approach_speed ? trial.approach_speed->mm_per_s() : kAbsent);
  // A person's own words may name somebody.
  line.Text(trial.set_aside ? ToText(*trial.set_aside) : "");
  return line.End();
}

bool IsPseudonym(std::string_view text) {
  constexpr std::size_t kLongest = 32;
  return !text.empty() && text.size() <= kLongest && std::ranges::all_of(text, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_';
  });
}

}  // namespace

Result<ResearchTables> ResearchCsv(const std::vector<StoredSession>& sessions,
                                   std::string_view pseudonym) {
  if (!IsPseudonym(pseudonym)) {
    // What was given may be a name, so it is not repeated.
    return Fail(ErrorCode::kBadValue,
                "That is no pseudonym; expected 1 to 32 letters, digits, - or _.");
  }
  if (sessions.empty()) return Fail(ErrorCode::kBadValue, "There is no session to export.");
  // Those without a day come last, in the order given.
  constexpr double kNever = 1e9;
  const auto day = [&](std::size_t i) {
    const auto& moment = sessions[i].data.started_at;
    return moment ? moment->days() : kNever;
  };
  std::vector<std::size_t> order(sessions.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, day);
  const auto& first = sessions[order.front()].data.started_at;
  const double first_day = first ? first->day : 0;

  ResearchTables tables{Header(kSessions), Header(kTrials), Dictionary()};
  int number = 0;
  for (const std::size_t i : order) {
    const StoredSession& session = sessions[i];
    tables.sessions += SessionLine(session, pseudonym, ++number, first_day);
    for (std::size_t k = 0; k < session.data.trials.size(); ++k) {
      tables.trials +=
          TrialLine(session.data.trials[k], session.objective_breaks.at(k), pseudonym, number);
    }
  }
  return tables;
}

}  // namespace nearpoint
