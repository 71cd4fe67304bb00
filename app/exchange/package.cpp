#include "app/exchange/package.h"

#include <algorithm>
#include <set>

#include "app/records/exercise_days_json.h"
#include "app/records/session_json.h"

namespace nearpoint {
namespace {

constexpr std::uint64_t kLongestName = 200;

tl::unexpected<Error> Damaged() {
  return Fail(ErrorCode::kBadValue, "the content is not put together as a package is.");
}

bool KnownKind(std::uint16_t kind) {
  return kind >= static_cast<std::uint16_t>(ItemKind::kSession) &&
         kind <= static_cast<std::uint16_t>(ItemKind::kExerciseDays);
}

// A name that stays in the folder it is unpacked into, on any system.
bool SafeName(std::string_view name) {
  if (name.empty() || name.size() > kLongestName || name.front() == '.') return false;
  return std::ranges::none_of(name, [](unsigned char c) {
    return c < 0x20 || c == 0x7f || c == '/' || c == '\\' || c == ':' || c == '*' || c == '?' ||
           c == '"' || c == '<' || c == '>' || c == '|';
  });
}

std::string Counted(std::ptrdiff_t count, const char* one, const char* many) {
  return std::to_string(count) + ' ' + (count == 1 ? one : many);
}

std::string DescribeSession(const PackageItem& item) {
  const auto session = ParseSessionTrials(item.content, item.name);
  if (!session) return item.name + ": not readable as a session.";
  std::string text = item.name + ": measured ";
  text += session->started_at ? session->started_at->text : "at a time that is not stated";
  const auto trials = static_cast<std::ptrdiff_t>(session->trials.size());
  return text + ", " + Counted(trials, "trial", "trials") +
         " with distances, times and what the eyes did, and the estimate.";
}

std::string DescribeExerciseDays(const PackageItem& item) {
  const auto days = ParseExerciseDays(item.content, item.name);
  if (!days) return item.name + ": not readable as days of exercise.";
  return item.name + ": the exercise diary, " +
         Counted(static_cast<std::ptrdiff_t>(days->size()), "session", "sessions") +
         " with repetitions, nearest pair held and how the eyes felt.";
}

}  // namespace

Result<void> CheckPackage(const Package& package) {
  if (package.items.empty()) return Fail(ErrorCode::kBadValue, "There is nothing to send.");
  if (package.items.size() > kMostItems) {
    return Fail(ErrorCode::kBadValue, "More than " + std::to_string(kMostItems) +
                                          " files do not go into one package; send fewer.");
  }
  std::set<std::string_view> names;
  std::uint64_t bytes = 1000;
  for (const PackageItem& item : package.items) {
    if (!SafeName(item.name)) {
      return Fail(ErrorCode::kBadValue,
                  '"' + item.name +
                      "\" is no name for a file in a package; expected one without "
                      "folders and special characters.");
    }
    if (!names.insert(item.name).second) {
      return Fail(ErrorCode::kBadValue,
                  '"' + item.name + "\" is there twice; expected different names.");
    }
    bytes += item.name.size() + item.content.size() + 16;
  }
  if (bytes > kMostPackageBytes || package.from.size() + package.made_at.size() > 1000) {
    return Fail(ErrorCode::kBadValue, "The files are larger than the " +
                                          std::to_string(kMostPackageBytes >> 20) +
                                          " MB that go into one package; send fewer.");
  }
  return {};
}

Bytes PackBytes(const Package& package) {
  ByteWriter writer;
  writer.Raw(package.id);
  writer.Text(package.made_at);
  writer.Text(package.from);
  writer.U32(static_cast<std::uint32_t>(package.items.size()));
  for (const PackageItem& item : package.items) {
    writer.U16(static_cast<std::uint16_t>(item.kind));
    writer.Text(item.name);
    writer.Text(item.content);
  }
  return writer.Take();
}

Result<Package> UnpackBytes(ByteView bytes) {
  ByteReader reader(bytes);
  Package package;
  std::ranges::copy(reader.Raw(package.id.size()), package.id.begin());
  package.made_at = TextOf(reader.Counted());
  package.from = TextOf(reader.Counted());
  const std::uint32_t count = reader.U32();
  if (!reader.ok() || count > kMostItems) return Damaged();
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::uint16_t kind = reader.U16();
    PackageItem item;
    item.name = TextOf(reader.Counted());
    item.content = TextOf(reader.Counted());
    if (!reader.ok() || !KnownKind(kind)) return Damaged();
    item.kind = static_cast<ItemKind>(kind);
    package.items.push_back(std::move(item));
  }
  if (!reader.done()) return Damaged();
  if (auto checked = CheckPackage(package); !checked) return tl::unexpected(checked.error());
  return package;
}

std::vector<std::string> DescribePackage(const Package& package) {
  std::vector<std::string> sentences;
  const auto count = [&package](ItemKind kind) {
    return std::ranges::count(package.items, kind, &PackageItem::kind);
  };
  for (const PackageItem& item : package.items) {
    switch (item.kind) {
      case ItemKind::kSession:
        sentences.push_back(DescribeSession(item));
        break;
      case ItemKind::kTrack:
        sentences.push_back(item.name + ": distance and eye rotation, one line for each frame.");
        break;
      case ItemKind::kPlan:
        sentences.push_back(item.name + ": a plan for exercises and measurements.");
        break;
      case ItemKind::kNote:
        sentences.push_back(
            item.name + ": words, " +
            Counted(static_cast<std::ptrdiff_t>(item.content.size()), "character", "characters") +
            ".");
        break;
      case ItemKind::kExerciseDays:
        sentences.push_back(DescribeExerciseDays(item));
        break;
      case ItemKind::kPicture:
        sentences.push_back(item.name + ": a picture of the eyes.");
        break;
    }
  }
  const auto pictures = count(ItemKind::kPicture);
  sentences.push_back(pictures == 0 ? "No pictures."
                                    : Counted(pictures, "picture", "pictures") + " of the eyes.");
  return sentences;
}

}  // namespace nearpoint
