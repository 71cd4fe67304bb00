// A session as it stands after its review. The session itself is never changed: the review is
// applied to it each time anew.
#pragma once

#include <span>
#include <vector>

#include "app/measure/trial.h"
#include "app/review/audit_log.h"
#include "vision/core/result.h"

namespace nearpoint {

struct ReviewedTrials {
  std::vector<Trial> trials;
  bool accepted = false;  // and nothing was changed since
};

// kNotFound: an entry names a trial that is not there; kBadValue: one that is to count and has no
// distance.
[[nodiscard]] Result<ReviewedTrials> ApplyReview(std::span<const Trial> trials,
                                                 const std::vector<AuditEntry>& entries);

}  // namespace nearpoint
