// Errors are values. A function that can fail for a reason a person can act on returns Result<T>.
// "No face in this frame" is data (see distance_sample.h), not an Error.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <utility>

namespace nearpoint {

enum class ErrorCode {
  kNotFound,      // a file, camera or field is absent
  kUnreadable,    // it is there and cannot be opened or decoded
  kBadValue,      // it is read and its content is not acceptable
  kMismatch,      // two inputs do not belong together (image size and profile, say)
  kNotWritable,   // output could not be written; nothing half-written is left
  kUnavailable,   // a device is busy or was unplugged
  kInsufficient,  // the data do not suffice for an answer
};

// One sentence for the person in front of the program: it names the file, the field and what was
// expected.
struct Error {
  ErrorCode code;
  std::string message;
};

template <typename T>
using Result = tl::expected<T, Error>;

[[nodiscard]] inline tl::unexpected<Error> Fail(ErrorCode code, std::string message) {
  return tl::unexpected<Error>(Error{code, std::move(message)});
}

}  // namespace nearpoint
