#include "app/window/letter_detail.h"

#include "app/window/screen_letter.h"
#include "calibration/fixation_letter.h"

namespace nearpoint {
namespace {
constexpr const char* kLetter = "printed_letter";
}  // namespace

bool LetterIsOfTheSheet(const Store& store) { return store.Setting(kLetter) == "sheet"; }

Result<void> SetLetterIsOfTheSheet(Store& store, bool of_the_sheet) {
  return store.SetSetting(kLetter, of_the_sheet ? "sheet" : "other");
}

std::optional<Length> LetterDetail(const QString& target, const Store& store,
                                   const Profile& profile, double mm_per_dot) {
  if (target == "screen") return StrokeWidth(mm_per_dot);
  if (target == "card" || LetterIsOfTheSheet(store)) return PrintedLetterDetail(profile);
  return std::nullopt;
}

}  // namespace nearpoint
