// The SHA-256 of a file.
#pragma once

#include <string>

#include "vision/core/result.h"

namespace nearpoint {

// 64 lower-case hexadecimal digits. Errors: kNotFound, kUnreadable.
[[nodiscard]] Result<std::string> Sha256OfFile(const std::string& file);

}  // namespace nearpoint
