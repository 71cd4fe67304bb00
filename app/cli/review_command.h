// nearpoint review: accept a session, set trials aside or let them count, annotate; every step goes
// into a log that cannot be edited unseen, and the session stays as it was measured.
#pragma once

#include <optional>
#include <string>

#include "app/session/estimate_options.h"
#include "vision/core/result.h"

namespace nearpoint {

struct ReviewArguments {
  std::string file;  // SESSION.json
  std::string log;   // REVIEW.jsonl; made with the first entry
  std::string by;
  std::optional<int> set_aside, count;  // the number of a trial
  bool accept = false;
  std::optional<std::string> note;
  std::string why;
  EstimateArguments estimate;
};

// Without an act it verifies the log and prints where the session stands.
[[nodiscard]] Result<void> RunReview(const ReviewArguments& arguments);

}  // namespace nearpoint
