#include "app/exchange/bytes.h"

namespace nearpoint {

ByteView ViewOf(std::string_view text) {
  return {reinterpret_cast<const std::uint8_t*>(text.data()), text.size()};
}

std::string TextOf(ByteView bytes) { return {bytes.begin(), bytes.end()}; }

void ByteWriter::Number(std::uint64_t value, int count) {
  for (int i = 0; i < count; ++i) bytes_.push_back(static_cast<std::uint8_t>(value >> (8 * i)));
}

void ByteWriter::U16(std::uint16_t value) { Number(value, 2); }
void ByteWriter::U32(std::uint32_t value) { Number(value, 4); }
void ByteWriter::U64(std::uint64_t value) { Number(value, 8); }
void ByteWriter::Raw(ByteView bytes) { bytes_.insert(bytes_.end(), bytes.begin(), bytes.end()); }

void ByteWriter::Text(std::string_view text) {
  U32(static_cast<std::uint32_t>(text.size()));
  Raw(ViewOf(text));
}

ByteView ByteReader::Raw(std::size_t count) {
  if (!ok_ || count > rest_.size()) {
    ok_ = false;
    return {};
  }
  const ByteView taken = rest_.first(count);
  rest_ = rest_.subspan(count);
  return taken;
}

ByteView ByteReader::Counted() { return Raw(U32()); }

std::uint64_t ByteReader::Number(std::size_t count) {
  std::uint64_t value = 0;
  const ByteView bytes = Raw(count);
  for (std::size_t i = bytes.size(); i > 0; --i) value = value << 8 | bytes[i - 1];
  return value;
}

}  // namespace nearpoint
