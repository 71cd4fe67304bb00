#include "app/exchange/compress.h"

#include <zstd.h>

namespace nearpoint {
namespace {

constexpr int kLevel = 9;

}  // namespace

Bytes Compress(ByteView bytes) {
  Bytes frame(ZSTD_compressBound(bytes.size()));
  const std::size_t size =
      ZSTD_compress(frame.data(), frame.size(), bytes.data(), bytes.size(), kLevel);
  // The bound is large enough for every input, so this cannot fail but for memory.
  frame.resize(ZSTD_isError(size) != 0 ? 0 : size);
  return frame;
}

std::optional<Bytes> Decompress(ByteView frame, std::uint64_t size) {
  // The frame's own claim must be ours, and nothing may follow it.
  if (ZSTD_getFrameContentSize(frame.data(), frame.size()) != size) return std::nullopt;
  if (ZSTD_findFrameCompressedSize(frame.data(), frame.size()) != frame.size()) return std::nullopt;
  Bytes bytes(size);
  const std::size_t written =
      ZSTD_decompress(bytes.data(), bytes.size(), frame.data(), frame.size());
  if (ZSTD_isError(written) != 0 || written != size) return std::nullopt;
  return bytes;
}

}  // namespace nearpoint
