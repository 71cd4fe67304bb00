#include "app/clinic/reviewed_session.h"

#include <algorithm>

#include "app/review/review.h"

namespace nearpoint {

Result<StoredSession> AsReviewed(const StoredSession& session, const AuditLog& review) {
  auto reviewed = ApplyReview(session.data.trials, review.entries());
  if (!reviewed) return tl::unexpected(reviewed.error());
  StoredSession result = session;
  result.data.trials = std::move(reviewed->trials);
  const bool changed = std::ranges::any_of(review.entries(),
                                           [](const AuditEntry& e) { return e.trial.has_value(); });
  if (!changed) return result;
  EstimateOptions options;
  options.cut_off = session.estimate.cut_off;
  options.plane = session.plane;
  result.estimate = EstimateNearPoint(result.data.trials, session.data.shared, options);
  result.cautions.insert(result.cautions.end(), result.estimate.cautions.begin(),
                         result.estimate.cautions.end());
  result.cautions.emplace_back(
      "A reviewer changed which trials count; the estimate was made anew, the original is kept.");
  return result;
}

Result<StoredSession> ParseAsReviewed(std::string_view text, const AuditLog& review,
                                      const std::string& where) {
  const auto session = ParseStoredSession(text, where);
  if (!session) return tl::unexpected(session.error());
  return AsReviewed(*session, review);
}

}  // namespace nearpoint
