#include "app/review/review.h"

#include <algorithm>

#include "app/measure/observations.h"

namespace nearpoint {

Result<ReviewedTrials> ApplyReview(std::span<const Trial> trials,
                                   const std::vector<AuditEntry>& entries) {
  ReviewedTrials reviewed;
  reviewed.trials.assign(trials.begin(), trials.end());
  for (const AuditEntry& entry : entries) {
    if (entry.act == ReviewAct::kAccept) reviewed.accepted = true;
    if (!entry.trial) continue;
    reviewed.accepted = false;
    const auto trial = std::ranges::find(reviewed.trials, *entry.trial, &Trial::number);
    if (trial == reviewed.trials.end()) {
      return Fail(ErrorCode::kNotFound,
                  "There is no trial " + std::to_string(*entry.trial) + " in the session.");
    }
    if (entry.act == ReviewAct::kSetAside) {
      trial->set_aside = SetAside::kByHand;
      trial->set_aside_words = entry.words;
    } else if (HasBreak(*trial)) {
      trial->set_aside.reset();
      trial->set_aside_words.clear();
    } else {
      return Fail(ErrorCode::kBadValue, "Trial " + std::to_string(*entry.trial) +
                                            " has no distance, so it cannot count.");
    }
  }
  return reviewed;
}

}  // namespace nearpoint
