// What one cell of a roster can say, and what is wrong with it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "app/event/roster.h"

namespace nearpoint {

struct CellFault {
  FaultKind kind;
  std::string expected;  // completes "expected ..."
};
template <typename T>
using Cell = tl::expected<T, CellFault>;

struct Birth {
  int year = 0, month = 0, day = 0;
};

// cell: without blanks at its ends, not empty.
[[nodiscard]] Cell<std::string> ReadName(const std::string& cell);
[[nodiscard]] Cell<std::string> ReadNumber(const std::string& cell);
[[nodiscard]] Cell<std::string> ReadGroup(const std::string& cell);
[[nodiscard]] Cell<double> ReadAge(const std::string& cell, const RosterRules& rules);
// 2017-03-14, 14.3.2017, or with slashes where only one order is possible.
[[nodiscard]] Cell<Birth> ReadBirth(const std::string& cell, const RosterRules& rules);
[[nodiscard]] Cell<bool> ReadConsent(const std::string& cell);

// What no cell may hold, whatever it means.
[[nodiscard]] std::optional<CellFault> AnyCellFault(std::string_view cell);

// Whole and part years from the birth to the day of the event.
[[nodiscard]] double AgeOn(const Birth& birth, const RosterRules& rules);

}  // namespace nearpoint
