#include "app/cli/measure_command.h"

#include <utility>
#include <vector>

#include "app/cli/console.h"
#include "app/cli/run_tracker.h"
#include "app/profile/profile_file.h"
#include "app/records/events_jsonl.h"
#include "app/records/session_json.h"
#include "app/run/glasses_facts.h"
#include "app/session/make_session.h"
#include "calibration/origin.h"
#include "calibration/profile_json.h"
#include "vision/camera/open_source.h"
#include "vision/camera/prefetch_source.h"

namespace nearpoint {

Result<void> RunMeasure(const MeasureArguments& arguments) {
  const auto profile = ReadProfileFor(arguments.profile, arguments.source, arguments.person);
  if (!profile) return tl::unexpected(profile.error());
  const auto events = ReadEvents(arguments.events);
  if (!events) return tl::unexpected(events.error());
  auto source =
      OpenSource(arguments.source, ImageSize{profile->camera.width, profile->camera.height});
  if (!source) return tl::unexpected(source.error());
  const SourceInfo info = (*source)->info();
  if (info.live) {
    return Fail(ErrorCode::kBadValue,
                arguments.source +
                    ": this is a camera, and a list of events belongs to a recording; "
                    "expected a video file or a folder of images.");
  }
  if (auto size = CheckPictures(*profile, arguments.profile, info); !size) return size;
  auto sink = DataSink::Open(arguments.out);
  if (!sink) return tl::unexpected(sink.error());
  auto tracker = MakeTracker(*profile);
  if (!tracker) return tl::unexpected(tracker.error());

  std::vector<DistanceSample> samples;
  const auto frames = ReadAhead(*std::move(source));
  const auto counts = RunTracker(*frames, *tracker, "measure", [&](const DistanceSample& sample) {
    samples.push_back(sample);
    return Result<void>();
  });
  if (!counts) return tl::unexpected(counts.error());

  auto made =
      MakeSession(samples, *events, *profile, SharedOf(*tracker, *profile), arguments.estimate);
  if (!made) {
    return Fail(made.error().code, arguments.events + ": " + made.error().message);
  }
  Session session = *std::move(made);
  session.source = info.description;
  session.started_at = arguments.started_at;
  session.frames = counts->frames;
  session.frames_lost = counts->lost;
  session.frames_missing = counts->missing;
  session.cautions = CautionsOfRun(*profile, *counts);
  if (std::string seen = LensesSeenSentence(profile->face, session.right_lens, session.left_lens);
      !seen.empty()) {
    session.cautions.push_back(std::move(seen));
  }
  for (std::string& caution : AgeCautions(profile->made, Today())) {
    session.cautions.push_back(std::move(caution));
  }
  if (auto written = sink->Write(SerializeSession(session)); !written) return written;
  if (auto finished = sink->Finish(); !finished) return finished;
  Say(ShortestDistanceSentence(*profile));
  for (const std::string& caution : session.cautions) Say(caution);
  for (const std::string& caution : session.estimate.cautions) Say(caution);
  for (const std::string& sentence : session.agreement.sentences) Say(sentence);
  return {};
}

}  // namespace nearpoint
