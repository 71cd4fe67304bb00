// What goes from home to the clinic: chosen measurements with the course of each trial and how the
// eyes felt, and the exercise diary: numbers and words. Pictures of the eyes only where they were
// kept with the person's consent and are chosen apart.
#pragma once

#include <QStringList>
#include <vector>

#include "app/exchange/package.h"
#include "app/store/store.h"

namespace nearpoint {

// Those that can be sent: not of the practice, with trials; newest first.
[[nodiscard]] Result<std::vector<HomeSession>> SendableSessions(const Store& store, RowId person);

struct HomePackage {
  Package package;
  QStringList inside;  // the list in plain words, in the language of the window
};
// Everything is read before it is sent: what the clinic could not use is not worth a journey.
// kInsufficient: nothing was chosen. Errors of the store besides.
struct HomeChoice {
  std::vector<RowId> sessions;
  bool diary = true;
  bool pictures = false;
};
[[nodiscard]] Result<HomePackage> MakeHomePackage(Store& store, const Person& person,
                                                  const HomeChoice& choice);

}  // namespace nearpoint
