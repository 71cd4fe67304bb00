#include "app/run/glasses_facts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace nearpoint {
namespace {

// From here on the two meridians differ by more than the deviations that are stated anyway.
constexpr double kStrongCylinder = 1.5;

}  // namespace

std::vector<std::string> GlassesCautions(const FaceScale& face) {
  std::vector<std::string> cautions;
  if (!face.glasses) return cautions;
  const Glasses& glasses = *face.glasses;
  const bool with = face.measured_with_glasses.value_or(false);
  if (!glasses.worn) {
    if (with || glasses.right || glasses.left) {
      cautions.emplace_back(
          "Whether glasses were worn is not said; the distances count as measured without them.");
    }
  }
  const bool worn = glasses.worn.value_or(false);
  if (with && !worn) {
    cautions.emplace_back(
        "The scale of the face was measured with glasses on, and none count as worn now; measure "
        "it again without them with `nearpoint calibrate face --glasses off`.");
  }
  if (!worn) return cautions;
  if (face.measured_with_glasses == false) {
    cautions.emplace_back(
        "The scale of the face was measured without glasses, and they are worn now; what the "
        "lenses do to it is computed from their strength.");
  }
  if (!glasses.right || !glasses.left) {
    cautions.emplace_back(
        "Glasses are worn whose strength is not known; the distances are less certain, and what "
        "the frames tell of the strength stands beside them.");
  }
  if (glasses.addition && glasses.addition->value.value() > 0) {
    cautions.emplace_back(
        "The glasses have an addition for reading; whether the eyes looked through it is not "
        "known, and the deviations allow for both.");
  }
  for (const auto& lens : {glasses.right, glasses.left}) {
    if (!lens) continue;
    if (std::abs(lens->cylinder.value.value()) >= kStrongCylinder) {
      cautions.emplace_back(
          "A lens has a strong cylinder, which is taken along the line of the eyes only; the "
          "deviations are wider.");
      break;
    }
  }
  const auto prism = [](const std::optional<LensPrescription>& lens) {
    return lens && lens->base_out.value() != 0;
  };
  if (prism(glasses.right) || prism(glasses.left)) {
    cautions.emplace_back(
        "A lens has a prism: the eyes turn as the prism asks, and the near point is that with it.");
  }
  return cautions;
}

std::string LensesSeenSentence(const FaceScale& face, const std::optional<LensEstimate>& right,
                               const std::optional<LensEstimate>& left) {
  if (!right || !left) return "";
  const bool said = face.glasses && face.glasses->worn.value_or(false);
  if (said && face.glasses->right && face.glasses->left) return "";
  std::array<char, 320> text{};
  std::snprintf(
      text.data(), text.size(),
      "The eyes look as they do behind lenses of %+.1f (right) and %+.1f dioptres (left), "
      "known to +-%.1f%s.",
      right->diopters, left->diopters, 2 * std::max(right->sd_diopters, left->sd_diopters),
      said ? ""
           : ", though nobody said that glasses are worn; the distances count as seen "
             "through them, unless the profile says that none are");
  return text.data();
}

}  // namespace nearpoint
