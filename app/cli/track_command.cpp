#include "app/cli/track_command.h"

#include <memory>
#include <utility>

#include "app/cli/console.h"
#include "app/cli/run_tracker.h"
#include "app/profile/profile_file.h"
#include "app/records/track_jsonl.h"
#include "calibration/origin.h"
#include "calibration/profile_json.h"
#include "vision/camera/open_source.h"
#include "vision/camera/prefetch_source.h"

namespace nearpoint {

Result<void> RunTrack(const TrackArguments& arguments) {
  const auto profile = ReadProfileFor(arguments.profile, arguments.source, arguments.person);
  if (!profile) return tl::unexpected(profile.error());
  auto source =
      OpenSource(arguments.source, ImageSize{profile->camera.width, profile->camera.height});
  if (!source) return tl::unexpected(source.error());
  const SourceInfo info = (*source)->info();
  if (auto size = CheckPictures(*profile, arguments.profile, info); !size) return size;
  auto sink = DataSink::Open(arguments.out);
  if (!sink) return tl::unexpected(sink.error());
  auto tracker = MakeTracker(*profile);
  if (!tracker) return tl::unexpected(tracker.error());
  const auto frames = info.live ? *std::move(source) : ReadAhead(*std::move(source));
  const auto counts = RunTracker(*frames, *tracker, "track", [&](const DistanceSample& sample) {
    return sink->Write(TrackLine(sample) + '\n');
  });
  if (!counts) return tl::unexpected(counts.error());
  if (auto finished = sink->Finish(); !finished) return finished;
  Say(ShortestDistanceSentence(*profile));
  for (const std::string& caution : CautionsOfRun(*profile, *counts)) Say(caution);
  for (const std::string& caution : AgeCautions(profile->made, Today())) Say(caution);
  return {};
}

}  // namespace nearpoint
