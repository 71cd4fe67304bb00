#include "app/event/roster_cells.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cmath>

#include "app/event/fold_text.h"

namespace nearpoint {
namespace {

constexpr std::size_t kLongestName = 80;
constexpr std::size_t kLongestNumber = 16;
constexpr std::size_t kLongestGroup = 40;
constexpr double kDaysInYear = 365.2425;

bool IsDigit(char c) { return c >= '0' && c <= '9'; }
bool AllDigits(std::string_view text) {
  return !text.empty() && std::ranges::all_of(text, IsDigit);
}

tl::unexpected<CellFault> Fault(FaultKind kind, std::string expected) {
  return tl::unexpected<CellFault>(CellFault{kind, std::move(expected)});
}

template <std::size_t kCount>
bool OneOf(std::string_view text, const std::array<std::string_view, kCount>& all) {
  return std::ranges::find(all, text) != all.end();
}

// The parts of a date, and what stands between them.
struct DateParts {
  std::array<std::string_view, 3> part;
  char mark = '-';
};
std::optional<DateParts> SplitDate(std::string_view text) {
  DateParts parts;
  const std::size_t first = text.find_first_of("-./");
  if (first == std::string_view::npos) return std::nullopt;
  parts.mark = text[first];
  const std::size_t second = text.find(parts.mark, first + 1);
  if (second == std::string_view::npos) return std::nullopt;
  parts.part = {text.substr(0, first), text.substr(first + 1, second - first - 1),
                text.substr(second + 1)};
  for (std::string_view& part : parts.part) {
    while (part.starts_with(' ')) part.remove_prefix(1);
    while (part.ends_with(' ')) part.remove_suffix(1);
    if (!AllDigits(part) || part.size() > 4) return std::nullopt;
  }
  return parts;
}

int ToInt(std::string_view digits) {
  int value = 0;
  std::from_chars(digits.data(), digits.data() + digits.size(), value);
  return value;
}

std::chrono::year_month_day ToDate(int year, int month, int day) {
  return std::chrono::year(year) / std::chrono::month(static_cast<unsigned>(month)) /
         std::chrono::day(static_cast<unsigned>(day));
}

}  // namespace

std::optional<CellFault> AnyCellFault(std::string_view cell) {
  constexpr std::array<std::string_view, 8> kErrors{"#REF!",   "#N/A",  "#VALUE!", "#NAME?",
                                                    "#DIV/0!", "#NUM!", "#NULL!",  "#BEZUG!"};
  std::optional<CellFault> fault;
  ForEachCodePoint(cell, [&](char32_t code) {
    if (fault) return;
    if (code == '\n' || code == '\r') {
      fault = CellFault{FaultKind::kLineBreak, "one line"};
    } else if (code == 0xFFFD) {
      fault = CellFault{FaultKind::kReplacementCharacter,
                        "letters; one was lost when the file was saved"};
    } else if ((code < ' ' && code != '\t') || (code >= 0x7F && code < 0xA0)) {
      fault = CellFault{FaultKind::kControlCharacter, "letters without hidden characters"};
    }
  });
  if (fault) return fault;
  if (OneOf(Simplified(cell), kErrors)) {
    return CellFault{FaultKind::kErrorValue, "a value; the spreadsheet could not compute it"};
  }
  // UTF-8 that was read as Windows-1252 once: "Ã¼" for "ü", "Ã©" for "é".
  for (std::string_view rest = cell;;) {
    const std::size_t at = rest.find("\xC3\x83");
    if (at == std::string_view::npos) break;
    rest.remove_prefix(at + 2);
    if (rest.starts_with("\xC2") || rest.starts_with("\xC5") || rest.starts_with("\xE2")) {
      return CellFault{FaultKind::kMojibake, "letters; this was saved in the wrong encoding once"};
    }
  }
  return std::nullopt;
}

Cell<std::string> ReadName(const std::string& cell) {
  constexpr std::array<std::string_view, 12> kPlaceholders{
      "nn", "n.n.", "n. n.", "test", "xxx", "xx", "x", "n/a", "na", "unknown", "unbekannt", "-"};
  if (std::string_view("=+@").find(cell.front()) != std::string_view::npos) {
    return Fault(FaultKind::kNameFormula, "a name, not a formula");
  }
  if (cell.find('@') != std::string::npos || cell.find("://") != std::string::npos ||
      cell.starts_with("www.")) {
    return Fault(FaultKind::kNameAddress, "a name, not an address");
  }
  if (OneOf(FoldForSearch(cell), kPlaceholders)) {
    return Fault(FaultKind::kNamePlaceholder, "a name, or an empty cell and a number");
  }
  if (std::ranges::any_of(cell, IsDigit)) {
    return Fault(FaultKind::kNameDigits, "a name without digits");
  }
  if (CountCodePoints(cell) > kLongestName) {
    return Fault(FaultKind::kNameTooLong, "at most 80 letters");
  }
  return cell;
}

Cell<std::string> ReadNumber(const std::string& cell) {
  const std::string expected = "letters, digits and hyphens, at most 16";
  if (cell.front() == '-') return Fault(FaultKind::kNumberNegative, expected);
  const bool numeric = std::ranges::all_of(cell, [](char c) {
    return IsDigit(c) || c == '.' || c == ',' || c == '+' || c == 'E' || c == 'e';
  });
  if (numeric && IsDigit(cell.front()) && cell.find_first_of("eE") != std::string::npos &&
      cell.find('+') != std::string::npos) {
    return Fault(FaultKind::kNumberScientific,
                 "the whole number; the spreadsheet shortened it and its digits are lost");
  }
  if (numeric && cell.find_first_of(".,") != std::string::npos) {
    return Fault(FaultKind::kNumberDecimal, "a whole number");
  }
  const bool fine = std::ranges::all_of(cell, [](char c) {
    return IsDigit(c) || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '-';
  });
  if (!fine) return Fault(FaultKind::kNumberCharacters, expected);
  if (cell.size() > kLongestNumber) return Fault(FaultKind::kNumberTooLong, expected);
  return cell;
}

Cell<std::string> ReadGroup(const std::string& cell) {
  if (CountCodePoints(cell) > kLongestGroup) {
    return Fault(FaultKind::kGroupTooLong, "at most 40 letters");
  }
  return cell;
}

Cell<double> ReadAge(const std::string& cell, const RosterRules& rules) {
  const std::string expected = "an age of " + std::to_string(std::lround(rules.youngest)) + " to " +
                               std::to_string(std::lround(rules.oldest)) + " years";
  std::string number = cell;
  std::ranges::replace(number, ',', '.');
  double age = 0;
  const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), age);
  if (error != std::errc() || end != number.data() + number.size() || !std::isfinite(age)) {
    return Fault(FaultKind::kAgeUnreadable, expected);
  }
  if (age < 0) return Fault(FaultKind::kAgeNegative, expected);
  if (age >= 1900 && age <= 2199) {
    return Fault(FaultKind::kAgeLooksLikeYear, expected + ", not a year");
  }
  if (age < rules.youngest) return Fault(FaultKind::kAgeTooYoung, expected);
  if (age > rules.oldest) return Fault(FaultKind::kAgeTooOld, expected);
  return age;
}

double AgeOn(const Birth& birth, const RosterRules& rules) {
  const auto days = std::chrono::sys_days(ToDate(rules.year, rules.month, rules.day)) -
                    std::chrono::sys_days(ToDate(birth.year, birth.month, birth.day));
  return static_cast<double>(days.count()) / kDaysInYear;
}

Cell<Birth> ReadBirth(const std::string& cell, const RosterRules& rules) {
  const std::string expected = "a day of birth like 2017-03-14 or 14.03.2017";
  const auto parts = SplitDate(cell);
  if (!parts) {
    const bool serial = AllDigits(cell) && cell.size() == 5;
    if (serial) {
      return Fault(FaultKind::kBornSerial,
                   expected +
                       "; this is a day as a spreadsheet counts it: format the column as a "
                       "date and save again");
    }
    return Fault(FaultKind::kBornUnreadable, expected);
  }
  const auto& [a, b, c] = parts->part;
  Birth birth;
  if (a.size() == 4) {
    birth = {ToInt(a), ToInt(b), ToInt(c)};
  } else if (c.size() != 4) {
    return Fault(FaultKind::kBornShortYear, expected + ", with four digits of the year");
  } else if (parts->mark == '/') {
    // 14/03/2017 can be read one way only, 03/04/2017 two ways.
    const int first = ToInt(a);
    const int second = ToInt(b);
    if (first <= 12 && second <= 12 && first != second) {
      return Fault(FaultKind::kBornAmbiguous,
                   expected + "; with slashes, day and month cannot be told apart here");
    }
    birth = second > 12 ? Birth{ToInt(c), first, second} : Birth{ToInt(c), second, first};
  } else {
    birth = {ToInt(c), ToInt(b), ToInt(a)};
  }
  if (!ToDate(birth.year, birth.month, birth.day).ok()) {
    return Fault(FaultKind::kBornNoSuchDay, expected + "; there is no such day");
  }
  const double age = AgeOn(birth, rules);
  if (age < 0) return Fault(FaultKind::kBornInFuture, expected + ", before the event");
  if (age < rules.youngest) return Fault(FaultKind::kBornTooYoung, expected);
  if (age >= rules.oldest + 1) return Fault(FaultKind::kBornTooOld, expected);
  return birth;
}

Cell<bool> ReadConsent(const std::string& cell) {
  constexpr std::array<std::string_view, 13> kYes{
      "yes",           "y",      "ja",    "j",      "true", "1", "x", "wahr", "ok",
      "einverstanden", "agreed", "given", "erteilt"};
  constexpr std::array<std::string_view, 12> kNo{"no",
                                                 "n",
                                                 "nein",
                                                 "false",
                                                 "0",
                                                 "falsch",
                                                 "refused",
                                                 "abgelehnt",
                                                 "verweigert",
                                                 "not given",
                                                 "nicht einverstanden",
                                                 "nicht erteilt"};
  const std::string word = FoldForSearch(cell);
  if (OneOf(word, kYes)) return true;
  if (OneOf(word, kNo)) return false;
  return Fault(FaultKind::kConsentUnreadable, "yes or no, or an empty cell where nobody asked");
}

}  // namespace nearpoint
