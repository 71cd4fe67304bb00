// REVIEW.jsonl and CONTEXT.json.
#include "app/records/context_json.h"
#include "app/review/audit_log.h"
#include "tests/fuzz/fuzz.h"

using namespace nearpoint;

void FuzzOne(std::string_view input) {
  const auto log = AuditLog::Parse(input, HashOf("the session"), "fuzz");
  if (log) Require(log->text() == input);
  (void)ParseContext(input, "fuzz");
}
