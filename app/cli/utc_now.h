// The wall clock, once for all commands that write it down.
#pragma once

#include <string>

namespace nearpoint {

// Now, as 2026-03-02T06:45:00Z.
[[nodiscard]] std::string UtcNow();

}  // namespace nearpoint
