// Bytes in the order of a file, written and read without ever trusting a length.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace nearpoint {

using Bytes = std::vector<std::uint8_t>;
using ByteView = std::span<const std::uint8_t>;

[[nodiscard]] ByteView ViewOf(std::string_view text);
[[nodiscard]] std::string TextOf(ByteView bytes);

// Numbers are little-endian.
class ByteWriter {
 public:
  void U16(std::uint16_t value);
  void U32(std::uint32_t value);
  void U64(std::uint64_t value);
  void Raw(ByteView bytes);
  void Text(std::string_view text);  // u32 length, then the bytes
  [[nodiscard]] const Bytes& bytes() const { return bytes_; }
  [[nodiscard]] Bytes Take() { return std::move(bytes_); }

 private:
  void Number(std::uint64_t value, int count);
  Bytes bytes_;
};

// Reads from the front. The first thing that is not there makes every later read fail too; nothing
// is allocated that the bytes at hand do not fill.
class ByteReader {
 public:
  explicit ByteReader(ByteView bytes) : rest_(bytes) {}
  std::uint16_t U16() { return static_cast<std::uint16_t>(Number(2)); }
  std::uint32_t U32() { return static_cast<std::uint32_t>(Number(4)); }
  std::uint64_t U64() { return Number(8); }
  ByteView Raw(std::size_t count);
  ByteView Counted();  // u32 length, then so many bytes
  [[nodiscard]] ByteView rest() const { return rest_; }
  [[nodiscard]] bool ok() const { return ok_; }
  [[nodiscard]] bool done() const { return ok_ && rest_.empty(); }

 private:
  std::uint64_t Number(std::size_t count);
  ByteView rest_;
  bool ok_ = true;
};

}  // namespace nearpoint
