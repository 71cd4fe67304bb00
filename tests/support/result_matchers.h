// What tests say about a Result: the code, and words that its one sentence must contain.
#pragma once

#include <gmock/gmock.h>

#include "vision/core/result.h"

namespace nearpoint {

MATCHER(IsOk, "is a value") {
  if (arg.has_value()) return true;
  *result_listener << "error: " << arg.error().message;
  return false;
}

// words: a matcher on the message. An error is one line and ends as a sentence does.
MATCHER_P2(FailsWith, code, words, "fails with that code and message") {
  if (arg.has_value()) {
    *result_listener << "no error";
    return false;
  }
  *result_listener << "message: " << arg.error().message;
  return arg.error().code == code && arg.error().message.find('\n') == std::string::npos &&
         (arg.error().message.ends_with(".") || arg.error().message.ends_with("?")) &&
         ::testing::ExplainMatchResult(words, arg.error().message, result_listener);
}

}  // namespace nearpoint
