#include "calibration/face_plausible.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace nearpoint {
namespace {

// Beyond this many deviations of people and measurement together a length is doubted: one in 400
// people is asked for a repeat by one length.
constexpr double kDoubt = 3;
// The factor common to all lengths, likewise: a print at 94 % or a card of another size.
constexpr double kScaleDoubt = 2.2;

}  // namespace

std::vector<FaceRange> FaceRanges(std::optional<double> age) {
  const bool child = age && *age < 20;
  // Pupil distance of adults: Dodgson, Proc SPIE 2004;5291:36-46: mean about 63, almost all from 45
  // to 80 mm, children from 5 years at least 40 (read); 63.36 with 3.83 (1988 survey quoted there,
  // from memory). From 5 to 20 years 51.83 + 0.656 mm a year (Fledelius & Stubgaard 1986, read);
  // its spread is taken as that of adults.
  const double pd = child ? 51.83 + 0.656 * std::clamp(*age, 3.0, 20.0) : 63.36;
  const double pd_low = child ? 38 : 45;
  // Corners of adults: BioMed Res Int 2013:821428 table 2 and PMC9029890 as in population.cpp
  // (read); children by the ratio of the pupil distances (computed, no source).
  const double ratio = pd / 63.36;
  return {
      // Rüfer et al., Cornea 2005;24:259-261: 11.71 with 0.42, 10 to 80 years (read). Hashemi 2015,
      // J
      // Curr Ophthalmol 27:21-24: normal range 10.8 to 12.8 (read); widened to three deviations
      // below.
      {"iris_mm", "iris diameter", &FaceScale::iris, 11.71, 0.42, 10.4, 13.0},
      {"distance_pd_mm", "pupil distance", &FaceScale::distance_pd, pd, 3.83, pd_low, 80},
      {"outer_corners_mm", "distance of the outer eye corners", &FaceScale::outer_corners,
       90.7 * ratio, 5.3, 60, 115},
      {"inner_corners_mm", "distance of the inner eye corners", &FaceScale::inner_corners,
       33.8 * ratio, 4.0, 20, 50},
  };
}

std::vector<FaceDoubt> FaceDoubts(const FaceScale& face, std::optional<double> age) {
  std::vector<FaceDoubt> doubts;
  std::array<char, 240> text{};
  double weighted = 0;
  double weights = 0;
  for (const FaceRange& range : FaceRanges(age)) {
    const auto& length = face.*range.member;
    if (!length) continue;
    const double mm = length->value.mm();
    const double off = (mm - range.mean_mm) / std::hypot(range.sd_mm, length->sd.mm());
    if (std::abs(off) > kDoubt || mm < range.low_mm || mm > range.high_mm) {
      std::snprintf(text.data(), text.size(),
                    "The %.*s of %.1f mm is outside what people have (%.1f, deviation %.1f mm).",
                    static_cast<int>(range.in_words.size()), range.in_words.data(), mm,
                    range.mean_mm, range.sd_mm);
      doubts.push_back({range.name, mm, 1, text.data()});
    }
    const double relative = std::hypot(range.sd_mm, length->sd.mm()) / range.mean_mm;
    weighted += std::log(mm / range.mean_mm) / (relative * relative);
    weights += 1 / (relative * relative);
  }
  if (weights <= 0 || !doubts.empty()) return doubts;
  // Faces are large or small as a whole, which the iris hardly follows: the common factor is known
  // no better than to 2 % by people.
  const double factor = weighted / weights;
  const double sd = std::hypot(1 / std::sqrt(weights), 0.01);
  if (std::abs(factor) > kScaleDoubt * sd) {
    std::snprintf(text.data(), text.size(),
                  "All lengths together are %.0f %% %s than usual; hold the printed card against a "
                  "bank card, which must be as wide.",
                  100 * std::abs(std::expm1(factor)), factor > 0 ? "larger" : "smaller");
    doubts.push_back({"", 0, std::exp(factor), text.data()});
  }
  return doubts;
}

}  // namespace nearpoint
