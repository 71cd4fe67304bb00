// What the diary would say of today, for the page that the person sees first.
#pragma once

#include <optional>

#include "app/exercise/diary.h"

namespace nearpoint {

struct AppContext;

// nullopt in practice, without a person, before the first session of somebody without a plan of
// their own, or when the store cannot tell.
[[nodiscard]] std::optional<Reminder> TodaysReminder(const AppContext& context);

}  // namespace nearpoint
