// A session as a report, a record server and a table for research state it: after its review.
#pragma once

#include <string>
#include <string_view>

#include "app/records/stored_session.h"
#include "app/review/audit_log.h"

namespace nearpoint {

// The session with the trials as reviewed; where the review changed which of them count, with the
// estimate made anew and a caution that says so. Errors: those of ApplyReview.
[[nodiscard]] Result<StoredSession> AsReviewed(const StoredSession& session,
                                               const AuditLog& review);

// The same from the file's text. where: for messages. Errors of ParseStoredSession besides.
[[nodiscard]] Result<StoredSession> ParseAsReviewed(std::string_view text, const AuditLog& review,
                                                    const std::string& where);

}  // namespace nearpoint
