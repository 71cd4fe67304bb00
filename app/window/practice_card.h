// Practising the calibration by the card with the simulated person.
//
// The card's pages work on an AppContext of their own: nobody's name stands in it, so what they
// measure is stored for no person, and the profile of whoever sits there stays as it is. What was
// practised of the touch, the practice of a measurement with that card uses (UsualSource).
#pragma once

#include "app/window/app_context.h"

namespace nearpoint {

class PracticeCard {
 public:
  explicit PracticeCard(const AppContext& home);
  [[nodiscard]] AppContext& context() { return context_; }

 private:
  AppContext context_;
};

// That of the context, made where there is none yet.
[[nodiscard]] PracticeCard& PracticeCardOf(AppContext& context);

}  // namespace nearpoint
