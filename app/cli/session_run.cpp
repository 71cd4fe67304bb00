#include "app/cli/session_run.h"

#include <algorithm>
#include <array>
#include <cstdio>

#include "app/cli/console.h"
#include "calibration/population.h"
#include "models/landmark_model.h"
#include "vision/distance/shortest_distance.h"

namespace nearpoint {

Result<SetupTracker> MakeTracker(const Profile& profile, const TrackerOptions& options) {
  const auto file = FindLandmarkModel();
  if (!file) return tl::unexpected(file.error());
  if (auto verified = VerifyModel(*file); !verified) return tl::unexpected(verified.error());
  const auto eyes = FindEyeRegionModel();
  if (!eyes) return tl::unexpected(eyes.error());
  if (auto verified = VerifyModel(*eyes); !verified) return tl::unexpected(verified.error());
  return SetupTracker::Create(profile, TrackerModels{*file, *eyes}, options);
}

std::string ShortestDistanceSentence(const Profile& profile) {
  if (profile.held_card) {
    return "The held card is measured as far as the nose, while the camera sees the brows over it.";
  }
  std::array<char, 120> text{};
  std::snprintf(text.data(), text.size(),
                "This camera can measure this person down to %.1f cm from the corneal plane.",
                ShortestMeasurableDistance(profile).cm());
  return text.data();
}

Result<RunCounts> RunTracker(FrameSource& source, SetupTracker& tracker, const std::string& label,
                             const std::function<Result<void>(const DistanceSample&)>& take) {
  ProgressLine progress(label, source.info().frame_count);
  RunCounts counts;
  while (!StopRequested()) {
    auto frame = source.Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) break;
    const auto sample = tracker.Process(**frame);
    if (!sample) return tl::unexpected(sample.error());
    ++counts.frames;
    if (!sample->distance) ++counts.lost;
    counts.missing += (*frame)->skipped_before();
    if (auto taken = take(*sample); !taken) return tl::unexpected(taken.error());
    progress.Show(counts.frames);
  }
  // Ctrl-C is the ordinary end of a camera; of a recording it leaves a part that nobody asked for.
  if (StopRequested() && !source.info().live) {
    return Fail(ErrorCode::kInsufficient,
                "The work was stopped before its end; no file was written.");
  }
  if (counts.frames == 0 && !source.info().live) {
    return Fail(ErrorCode::kUnreadable,
                source.info().description +
                    ": not one frame can be read; the recording is cut off or damaged.");
  }
  // A source that knows of frames after the last one it gave says so only here.
  counts.missing = std::max(counts.missing, source.info().unreadable);
  return counts;
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
  if (profile.held_card && !profile.held_card->zero) {
    cautions.emplace_back(
        "The held card never touched the nose for its zero, so the scale of the face counts in "
        "full: "
        "5 mm for each per cent; `nearpoint calibrate touch` sets it.");
  }
  if (counts.missing > 0) {
    cautions.push_back(std::to_string(counts.missing) + " of " +
                       std::to_string(counts.frames + counts.missing) +
                       " frames are missing: dropped, damaged or cut off.");
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
