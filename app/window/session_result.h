// What a stored session says, as numbers and in the words of the person.
#pragma once

#include <QString>
#include <optional>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/norms.h"
#include "app/store/store.h"
#include "calibration/profile_age.h"

namespace nearpoint {

struct SessionResult {
  HomeSession session;
  std::vector<StoredTrial> trials;
  Estimate estimate;  // in the corneal plane
  const Norm* norm = nullptr;
  bool calibrated = false;  // lengths of this face were measured
  // Parts of its profile that were old on the day of the session.
  std::vector<ProfilePart> old_parts;
  // Why the profile it was measured with cannot be read; absent: it can. Then `calibrated` and
  // `old_parts` say nothing.
  std::optional<Error> unread_profile;
  std::optional<Error> error;
};

[[nodiscard]] SessionResult ReadResult(const Store& store, const HomeSession& session);

// "8.2 cm, between 7.5 and 8.9 cm": one line for a list.
[[nodiscard]] QString ShortSentence(const SessionResult& result);
// What it means, in one sentence.
[[nodiscard]] QString MeaningSentence(const SessionResult& result);
// What to do next.
[[nodiscard]] QString NextSentence(const SessionResult& result);
// What was answered to "how do your eyes feel" if it calls for help; else empty.
[[nodiscard]] QString ComfortSentence(const SessionResult& result);
// How sure the number is and what it rests on, for the details.
[[nodiscard]] QString BasisSentence(const SessionResult& result);

}  // namespace nearpoint
