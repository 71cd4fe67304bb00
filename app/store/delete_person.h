// All that the home's file holds of one person, and its end.
#pragma once

#include "app/store/store.h"

namespace nearpoint {

struct PersonHoldings {
  int measurements = 0;  // sessions, practice among them
  int trials = 0;
  int exercises = 0;  // sessions of the exercise
  int plans = 0;      // of the exercise
  int calibrations = 0;
  int eye_pictures = 0;
};
[[nodiscard]] Result<PersonHoldings> HoldingsOf(const Store& store, RowId person);

// The person and everything above, overwritten in the file. Errors: kNotFound; kUnavailable where
// another window has the file open, so that bytes of it may remain until that is closed; those of
// the database.
[[nodiscard]] Result<void> DeletePerson(Store& store, RowId person);

// What the file knows of the clinic's server and of what was left there; for when nobody is left.
[[nodiscard]] Result<void> ForgetServer(Store& store);

}  // namespace nearpoint
