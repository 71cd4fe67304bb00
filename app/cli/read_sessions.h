// Sessions from the files that a person names: SESSION.json, a CSV of one session read off a ruler,
// or a diary CSV of several.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/measure/estimate.h"
#include "app/measure/planes.h"
#include "app/measure/session_point.h"
#include "app/measure/trial.h"
#include "app/records/moment.h"
#include "vision/core/result.h"

namespace nearpoint {

struct NamedSession {
  std::string file;
  std::optional<Moment> started_at;
  std::vector<Trial> trials;  // from the corneal plane
  SharedCalibration shared;
};

// One or more sessions of one file. plane: the one that the values of a CSV are counted from; a
// SESSION.json counts from the corneal plane.
[[nodiscard]] Result<std::vector<NamedSession>> ReadSessions(const std::string& file,
                                                             ReferencePlane plane);

// Those of several files, one after the other.
[[nodiscard]] Result<std::vector<NamedSession>> ReadAllSessions(
    const std::vector<std::string>& files, ReferencePlane plane);

// All trials of several sessions as one. Of several shared calibrations the least certain counts.
struct PooledTrials {
  std::vector<Trial> trials;
  SharedCalibration shared;
};
[[nodiscard]] PooledTrials Pool(const std::vector<NamedSession>& sessions);

// What comparing takes. kInsufficient when no trial counts. `dated`: a session without a day is
// refused, with kNotFound.
[[nodiscard]] Result<SessionPoint> PointOf(const NamedSession& session, bool dated);

}  // namespace nearpoint
