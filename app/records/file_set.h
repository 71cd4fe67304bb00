// Files that belong together: all of them are written, or none.
#pragma once

#include <span>
#include <string>

#include "vision/core/result.h"

namespace nearpoint {

struct NamedText {
  std::string name;  // within the folder
  std::string text;
};

// Writes them into the folder, which must exist. None takes its name before all of them are on the
// disk, so a full disk leaves what was there before, and never tables of one run beside those of
// another. (Taking the names is a rename for each: a power cut between two of those is the one
// thing that can part them.) Errors: kNotWritable, naming the file and the reason.
[[nodiscard]] Result<void> WriteFilesTogether(const std::string& folder,
                                              std::span<const NamedText> files);

}  // namespace nearpoint
