// Whether a measurement or an exercise may begin. Every way to one passes here (MainWindow::Show).
#pragma once

#include "app/safety/safety_check.h"
#include "app/store/safety_store.h"
#include "app/window/page.h"

namespace nearpoint {

struct AppContext;

// What is known of the person in front of the window: the file, and what was said since that could
// not be written to it.
[[nodiscard]] Result<SafetyFacts> FactsOf(const AppContext& context);

// Neither measuring nor exercising is offered: something applies, or somebody must be asked first.
// Of a file that cannot be read nothing is known: then it is not blocked here, but not admitted
// either.
[[nodiscard]] bool IsBlocked(const AppContext& context);

// What is to be asked before the page that is wanted; kMayBegin where nothing is.
[[nodiscard]] Result<SafetyStep> StepBefore(const AppContext& context, PageId wanted);

// The page itself, or the one with the questions before it. Practice asks nothing.
[[nodiscard]] PageId Admit(AppContext& context, PageId wanted);

// Keeps answers, in memory also where the store does not take them now (PendingWrites).
Result<void> KeepAnswers(AppContext& context, SafetyStore::Kind kind, const SafetyAnswers& answers);
Result<void> KeepWhomAsked(AppContext& context, const QString& whom);
// How the eyes feel after a measurement or an exercise, as the store has it ("fine", ...). After
// pain, or double vision that stayed, somebody must be asked before the next.
void HeedComfort(AppContext& context, const QString& comfort);
[[nodiscard]] bool IsTroubleWord(const QString& comfort);

}  // namespace nearpoint
