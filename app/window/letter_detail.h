// How fine the letter is that the person chose to look at.
#pragma once

#include <QString>
#include <optional>

#include "app/store/store.h"
#include "calibration/profile.h"

namespace nearpoint {

// Whether the printed letter is that of the sheet, as the person says: only then its size is known.
[[nodiscard]] bool LetterIsOfTheSheet(const Store& store);
[[nodiscard]] Result<void> SetLetterIsOfTheSheet(Store& store, bool of_the_sheet);

// target: the setting "target". nullopt: nobody knows how fine it is.
[[nodiscard]] std::optional<Length> LetterDetail(const QString& target, const Store& store,
                                                 const Profile& profile, double mm_per_dot);

}  // namespace nearpoint
