// Where the window begins, and in which order the first run leads through the pages.
#pragma once

#include "app/window/app_context.h"
#include "app/window/page.h"

namespace nearpoint {

// Fills the context from the store. A person who has been here before begins at home.
[[nodiscard]] PageId Begin(AppContext& context, bool practice);

// Makes that person the one in front of the window, with their calibration and camera.
void Choose(AppContext& context, const Person& person);

// The camera, or in practice the simulated person.
[[nodiscard]] OpenLiveSource UsualSource(const AppContext& context);

// The camera for a calibration: any picture size as long as it was not measured.
[[nodiscard]] OpenLiveSource CameraForCard(const AppContext& context, CardTask task);

// How the next measurement goes by the choice of the person: the profile with or without the held
// card, whatever was calibrated. A zero that was measured for the card stays in the store and
// switches nothing by itself.
[[nodiscard]] Profile SetUpAsChosen(Profile profile, const QString& target);

// The page after this one: the next of the first run while that lasts, else home.
[[nodiscard]] PageId After(const AppContext& context, PageId page);
// The page that Escape leads to from a page of the first run: the one before it.
[[nodiscard]] PageId Before(const AppContext& context, PageId page);
// "Step 2 of 6"; empty outside the first run.
[[nodiscard]] QString StepText(const AppContext& context, PageId page);

}  // namespace nearpoint
