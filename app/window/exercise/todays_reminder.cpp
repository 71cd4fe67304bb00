#include "app/window/exercise/todays_reminder.h"

#include "app/store/exercise_store.h"
#include "app/window/app_context.h"
#include "app/window/exercise/days.h"
#include "app/window/safety_gate.h"

namespace nearpoint {

std::optional<Reminder> TodaysReminder(const AppContext& context) {
  if (context.practice || !context.person) return std::nullopt;
  if (IsBlocked(context)) return Reminder::kAskFirst;
  const ExerciseStore store(context.store);
  const auto plan = store.Plan(context.person->id);
  const auto sessions = store.Sessions(context.person->id);
  if (!plan || !sessions) return std::nullopt;
  const bool begun = !sessions->empty() || plan->source == PlanSource::kClinician;
  if (!begun) return std::nullopt;
  const QDateTime now = context.store.Now().toLocalTime();
  return RemindNow(*plan, DiaryEntries(*sessions), ToDay(now.date()), now.time().hour());
}

}  // namespace nearpoint
