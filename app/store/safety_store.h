// What each person answered before measuring and exercising, in the home's file.
#pragma once

#include <QString>

#include "app/safety/safety_check.h"
#include "app/store/store.h"

namespace nearpoint {

class SafetyStore {
 public:
  explicit SafetyStore(Store& store) : store_(store) {}

  // Which of the answers of a person these take the place of.
  enum class Kind { kWhole, kToday, kTold };
  // person: 0 for nobody in particular, here and below.
  Result<void> Keep(RowId person, Kind kind, const SafetyAnswers& answers);
  // After pain or double vision that stayed: whom the person says to have asked ("doctor",
  // "emergency", "professional"). It covers the sessions up to now.
  Result<void> KeepWhom(RowId person, const QString& whom);

  // All but the age, which is not in these tables. Errors: those of the database, kBadValue
  // (answers that cannot be read).
  [[nodiscard]] Result<SafetyFacts> FactsOf(RowId person) const;

 private:
  Store& store_;
};

// Whole seconds of the day's clock, as SafetyFacts counts them.
[[nodiscard]] std::chrono::seconds SecondsOf(const QDateTime& time);

}  // namespace nearpoint
