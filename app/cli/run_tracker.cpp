#include "app/cli/run_tracker.h"

#include <algorithm>

#include "app/cli/console.h"

namespace nearpoint {

Result<RunCounts> RunTracker(FrameSource& source, SetupTracker& tracker, const std::string& label,
                             const std::function<Result<void>(const DistanceSample&)>& take) {
  ProgressLine progress(label, source.info().frame_count);
  RunCounts counts;
  Time last{};
  while (!StopRequested()) {
    auto frame = source.Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) break;
    const auto sample = tracker.Process(**frame);
    if (!sample) return tl::unexpected(sample.error());
    ++counts.frames;
    last = sample->time;
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
  if (source.info().cut_off) counts.cut_off = last;
  return counts;
}

}  // namespace nearpoint
