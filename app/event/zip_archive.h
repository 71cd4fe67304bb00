// The files inside a ZIP archive (PKWARE APPNOTE 6.3; from memory): enough for workbooks. Nothing
// encrypted, nothing over 4 GB.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>

#include "vision/core/result.h"

namespace nearpoint {

// Name to content, of those whose name `wanted` accepts. most_bytes: of all of them together,
// unpacked; more is refused, so that a small archive cannot fill the memory. Errors: kBadValue
// (damaged, cut off, encrypted, too large). where: the archive, for messages.
[[nodiscard]] Result<std::map<std::string, std::string>> ReadZip(
    std::string_view bytes, const std::string& where,
    const std::function<bool(std::string_view name)>& wanted,
    std::size_t most_bytes = std::size_t{64} << 20);

}  // namespace nearpoint
