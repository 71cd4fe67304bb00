// Days of the diary as Qt's dates and back.
#pragma once

#include <QDate>

#include "app/exercise/plan.h"

namespace nearpoint {

[[nodiscard]] inline Day ToDay(const QDate& date) {
  return Day(std::chrono::year(date.year()) /
             std::chrono::month(static_cast<unsigned>(date.month())) /
             std::chrono::day(static_cast<unsigned>(date.day())));
}

[[nodiscard]] inline QDate ToQDate(Day day) {
  const std::chrono::year_month_day date(day);
  return {static_cast<int>(date.year()), static_cast<int>(static_cast<unsigned>(date.month())),
          static_cast<int>(static_cast<unsigned>(date.day()))};
}

}  // namespace nearpoint
