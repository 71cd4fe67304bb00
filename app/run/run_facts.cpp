#include "app/run/run_facts.h"

#include <array>
#include <cstdio>
#include <utility>

#include "app/measure/shown_number.h"
#include "app/run/glasses_facts.h"
#include "calibration/population.h"
#include "calibration/print_scale.h"
#include "vision/distance/shortest_distance.h"

namespace nearpoint {

std::string ShortestDistanceSentence(const Profile& profile) {
  if (profile.held_card) {
    return "The held card is measured as far as the nose, while the camera sees the brows over it.";
  }
  return "This camera can measure this person down to " +
         ShownCentimeters(ShortestMeasurableDistance(profile).mm()) + " from the corneal plane.";
}

std::vector<std::string> CautionsOfRun(const Profile& profile, const RunCounts& counts) {
  std::vector<std::string> cautions;
  const auto filled = FilledByPopulation(profile.face);
  if (!filled.empty()) {
    std::string names;
    for (const std::string_view name : filled) {
      names += names.empty() ? "" : ", ";
      names += name;
    }
    cautions.push_back("Not measured on this person, so population values were used: " + names +
                       ".");
  }
  for (std::string& caution : GlassesCautions(profile.face)) cautions.push_back(std::move(caution));
  if (profile.held_card && !profile.held_card->zero) {
    cautions.emplace_back(
        "The held card never touched the nose for its zero, so the scale of the face counts in "
        "full: "
        "5 mm for each per cent; `nearpoint calibrate touch` sets it.");
  }
  if (profile.held_card && !PrintIsMeasured(profile)) {
    cautions.emplace_back(
        "Nobody has measured the printed card that was held, so each of its distances is known to "
        "4 % only; `nearpoint calibrate sheet --check` mends it.");
  }
  const std::string missing = std::to_string(counts.missing) + " of " +
                              std::to_string(counts.frames + counts.missing) +
                              " frames are missing";
  if (counts.cut_off) {
    std::array<char, 60> where{};
    std::snprintf(where.data(), where.size(), "The recording breaks off after %.1f s",
                  ToSeconds(*counts.cut_off));
    cautions.push_back(where.data() + (counts.missing > 0 ? ", and " + missing : std::string()) +
                       "; what was measured until then counts.");
  } else if (counts.missing > 0) {
    cautions.push_back(missing + ": dropped, damaged or cut off.");
  }
  if (2 * counts.lost > counts.frames) {
    cautions.push_back("No distance is known in " + std::to_string(counts.lost) + " of " +
                       std::to_string(counts.frames) + " frames.");
  }
  return cautions;
}

SharedCalibration SharedOf(const SetupTracker& tracker, const Profile& profile) {
  const SharedUncertainty uncertainty = tracker.shared_uncertainty();
  SharedCalibration shared;
  shared.relative_sd = uncertainty.relative_sd;
  shared.offset_sd = uncertainty.offset_sd;
  shared.lag_sd = profile.lag_sd;
  return shared;
}

}  // namespace nearpoint
