// What one party sends to another: some files with a kind each, before compression, signature and
// encryption.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "app/exchange/bytes.h"
#include "vision/core/result.h"

namespace nearpoint {

// The number is what stands in the file.
enum class ItemKind : std::uint16_t {
  kSession = 1,  // SESSION.json
  kTrack = 2,    // a line a frame
  kPlan = 3,     // what a clinician prescribes
  kNote = 4,     // plain words
  kPicture = 5,  // both eyes at break or recovery (records/eye_picture.h): with consent of its own
  kExerciseDays = 6,  // the days of the exercise diary
};

struct PackageItem {
  ItemKind kind = ItemKind::kSession;
  std::string name;  // of the file, without a folder
  std::string content;
};

struct Package {
  std::array<std::uint8_t, 16> id{};  // drawn when it is made: the same one twice is a duplicate
  std::string made_at;                // a moment (records/moment.h)
  std::string from;                   // what the sender calls themselves; said, not proven
  std::vector<PackageItem> items;
};

// More than any session list needs; a claim beyond it is refused before memory is taken.
inline constexpr std::uint64_t kMostPackageBytes = 64ull << 20;
inline constexpr std::size_t kMostItems = 10000;

// kBadValue: a name with a folder in it, two items of one name, nothing in it, or too much.
[[nodiscard]] Result<void> CheckPackage(const Package& package);

// Needs a package that CheckPackage accepts.
[[nodiscard]] Bytes PackBytes(const Package& package);
// kBadValue for anything that PackBytes does not write.
[[nodiscard]] Result<Package> UnpackBytes(ByteView bytes);

// What is inside, in plain words, for the person who sends and for the one who receives: a sentence
// for each kind, and always one on pictures.
[[nodiscard]] std::vector<std::string> DescribePackage(const Package& package);

}  // namespace nearpoint
