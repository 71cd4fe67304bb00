// Compression whose output is bounded before it starts.
#pragma once

#include <cstdint>
#include <optional>

#include "app/exchange/bytes.h"

namespace nearpoint {

// Zstandard, one frame.
[[nodiscard]] Bytes Compress(ByteView bytes);

// Exactly `size` bytes out of exactly one frame, or nothing. Takes `size` bytes of memory and the
// decoder's window, which is bounded by it.
[[nodiscard]] std::optional<Bytes> Decompress(ByteView frame, std::uint64_t size);

}  // namespace nearpoint
