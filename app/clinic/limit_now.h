// The limit that a clinic holds a person's near point against: decided in one place, from what is
// known now. A year of birth that was entered after a measurement changes what every page, list,
// report and bundle says of it; what it said on its own day stays beside that.
#pragma once

#include <optional>
#include <string>

#include "app/clinic/session_digest.h"
#include "app/measure/norms.h"
#include "app/records/stored_session.h"

namespace nearpoint {

struct LimitNow {
  Length cut_off;              // from the corneal plane
  const Norm* from = nullptr;  // absent: no age is known, or no limit is published for it
  std::string words;           // whose limit it is, with its source
};

// age_years: in this year, absent where nobody said. said: what the newest measurement was held
// against at home, from the corneal plane; it stands in for an unknown age, and the limit of adults
// where there is no measurement either.
[[nodiscard]] LimitNow LimitFor(std::optional<double> age_years, std::optional<Length> said);

// Of all measurements, oldest first: what `said` of LimitFor is.
[[nodiscard]] std::optional<Length> SaidByTheNewest(std::span<const SessionDigest> sessions);

// The same band against that limit. Where it is another than on the day of the measurement, `said`
// of the digest, or a caution of the session, tells what was said then.
[[nodiscard]] SessionDigest HeldAgainst(SessionDigest digest, const LimitNow& limit);
[[nodiscard]] StoredSession HeldAgainst(StoredSession session, const LimitNow& limit);

}  // namespace nearpoint
