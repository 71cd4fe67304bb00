#include "app/event/zip_archive.h"

#include <zlib.h>

#include <cstdint>
#include <optional>

namespace nearpoint {
namespace {

constexpr std::uint32_t kEndOfDirectory = 0x06054b50;
constexpr std::uint32_t kDirectoryEntry = 0x02014b50;
constexpr std::uint32_t kLocalEntry = 0x04034b50;

// Little-endian numbers at a place; nullopt beyond the end.
class Bytes {
 public:
  explicit Bytes(std::string_view bytes) : bytes_(bytes) {}
  [[nodiscard]] std::optional<std::uint32_t> Number(std::size_t at, std::size_t size) const {
    if (at > bytes_.size() || bytes_.size() - at < size) return std::nullopt;
    std::uint32_t number = 0;
    for (std::size_t i = 0; i < size; ++i) {
      number |= static_cast<std::uint32_t>(static_cast<unsigned char>(bytes_[at + i])) << (8 * i);
    }
    return number;
  }
  [[nodiscard]] std::optional<std::string_view> Text(std::size_t at, std::size_t size) const {
    if (at > bytes_.size() || bytes_.size() - at < size) return std::nullopt;
    return bytes_.substr(at, size);
  }

 private:
  std::string_view bytes_;
};

std::optional<std::string> Inflate(std::string_view packed, std::size_t size) {
  std::string text(size, '\0');
  z_stream stream{};
  constexpr int kRaw = -15;  // no header of its own, the largest window
  if (inflateInit2(&stream, kRaw) != Z_OK) return std::nullopt;
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(packed.data()));
  stream.avail_in = static_cast<uInt>(packed.size());
  stream.next_out = reinterpret_cast<Bytef*>(text.data());
  stream.avail_out = static_cast<uInt>(text.size());
  const int ended = inflate(&stream, Z_FINISH);
  const bool whole = ended == Z_STREAM_END && stream.avail_out == 0;
  inflateEnd(&stream);
  if (!whole) return std::nullopt;
  return text;
}

struct Entry {
  std::uint32_t flags, method, checksum, packed, size, name, extra, comment, local;
};
std::optional<Entry> ReadEntry(const Bytes& bytes, std::size_t at) {
  if (bytes.Number(at, 4) != kDirectoryEntry) return std::nullopt;
  const auto comment = bytes.Number(at + 32, 2);
  const auto local = bytes.Number(at + 42, 4);
  if (!comment || !local) return std::nullopt;
  return Entry{*bytes.Number(at + 8, 2),
               *bytes.Number(at + 10, 2),
               *bytes.Number(at + 16, 4),
               *bytes.Number(at + 20, 4),
               *bytes.Number(at + 24, 4),
               *bytes.Number(at + 28, 2),
               *bytes.Number(at + 30, 2),
               *comment,
               *local};
}

std::uint32_t Checksum(std::string_view text) {
  return static_cast<std::uint32_t>(
      crc32(0, reinterpret_cast<const Bytef*>(text.data()), static_cast<uInt>(text.size())));
}

std::optional<std::string> Content(const Entry& entry, std::string_view packed) {
  constexpr std::uint32_t kStored = 0, kDeflated = 8;
  if (entry.method == kDeflated) return Inflate(packed, entry.size);
  if (entry.method != kStored || entry.packed != entry.size) return std::nullopt;
  return std::string(packed);
}

std::optional<std::string> Unpack(const Bytes& bytes, const Entry& entry) {
  if (bytes.Number(entry.local, 4) != kLocalEntry) return std::nullopt;
  const auto name = bytes.Number(entry.local + 26, 2);
  const auto extra = bytes.Number(entry.local + 28, 2);
  if (!name || !extra) return std::nullopt;
  constexpr std::size_t kLocalHeader = 30;
  const auto packed = bytes.Text(entry.local + kLocalHeader + *name + *extra, entry.packed);
  if (!packed) return std::nullopt;
  auto text = Content(entry, *packed);
  if (!text) return std::nullopt;
  if (Checksum(*text) != entry.checksum) return std::nullopt;
  return text;
}

}  // namespace

Result<std::map<std::string, std::string>> ReadZip(
    std::string_view text, const std::string& where,
    const std::function<bool(std::string_view name)>& wanted, std::size_t most_bytes) {
  const auto damaged = [&where] {
    return Fail(ErrorCode::kBadValue, where + ": the file is damaged or cut off.");
  };
  const Bytes bytes(text);
  // The directory's end stands last, before a comment of at most 65535 bytes.
  constexpr std::size_t kEndSize = 22, kLongestComment = 65535;
  if (text.size() < kEndSize) return damaged();
  std::size_t end = text.size() - kEndSize;
  const std::size_t first = end > kLongestComment ? end - kLongestComment : 0;
  while (bytes.Number(end, 4) != kEndOfDirectory) {
    if (end == first) return damaged();
    --end;
  }
  const auto count = bytes.Number(end + 10, 2);
  auto at = bytes.Number(end + 16, 4);
  if (!count || !at) return damaged();
  std::map<std::string, std::string> files;
  for (std::uint32_t i = 0; i < *count; ++i) {
    const auto entry = ReadEntry(bytes, *at);
    if (!entry) return damaged();
    constexpr std::uint32_t kEntryHeader = 46;
    const auto name = bytes.Text(*at + kEntryHeader, entry->name);
    if (!name) return damaged();
    *at += kEntryHeader + entry->name + entry->extra + entry->comment;
    if (!wanted(*name)) continue;
    if ((entry->flags & 1U) != 0) {
      return Fail(ErrorCode::kBadValue,
                  where + ": the file is locked with a password; save it without one.");
    }
    if (entry->size > most_bytes) {
      return Fail(ErrorCode::kBadValue, where + ": a sheet of this file is too large.");
    }
    most_bytes -= entry->size;
    auto unpacked = Unpack(bytes, *entry);
    if (!unpacked) return damaged();
    files[std::string(*name)] = *std::move(unpacked);
  }
  return files;
}

}  // namespace nearpoint
