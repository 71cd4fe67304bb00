#include "app/cli/demo_command.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "app/cli/console.h"
#include "app/cli/demo_table.h"
#include "app/cli/run_tracker.h"
#include "app/records/events_jsonl.h"
#include "app/records/file_set.h"
#include "app/records/json_number.h"
#include "app/records/session_json.h"
#include "app/records/track_jsonl.h"
#include "app/report/trace_svg.h"
#include "app/session/make_session.h"
#include "calibration/profile_json.h"
#include "vision/camera/prefetch_source.h"
#include "vision/simulate/patient.h"

namespace nearpoint {
namespace {

EventKind KindOf(simulate::ReportKind kind) {
  switch (kind) {
    case simulate::ReportKind::kTrialStart:
      return EventKind::kTrialStart;
    case simulate::ReportKind::kDouble:
      return EventKind::kDouble;
    case simulate::ReportKind::kSingle:
      return EventKind::kSingle;
    case simulate::ReportKind::kNoDouble:
      return EventKind::kNoDouble;
    case simulate::ReportKind::kTrialEnd:
      return EventKind::kTrialEnd;
  }
  return EventKind::kTrialEnd;
}

std::vector<Event> EventsOf(const simulate::Script& script) {
  std::vector<Event> events;
  events.reserve(script.reports.size());
  for (const simulate::Report& report : script.reports) {
    events.push_back({report.time, KindOf(report.kind)});
  }
  return events;
}

OrderedJson TruthEye(const simulate::EyeTruth& eye) {
  OrderedJson json;
  json["centre_of_rotation_mm"] = {JsonNumber(eye.centre_of_rotation_mm.x(), 4),
                                   JsonNumber(eye.centre_of_rotation_mm.y(), 4),
                                   JsonNumber(eye.centre_of_rotation_mm.z(), 4)};
  json["gaze"] = {JsonNumber(eye.gaze.x(), 6), JsonNumber(eye.gaze.y(), 6),
                  JsonNumber(eye.gaze.z(), 6)};
  json["drift_deg"] = JsonDegrees(eye.drift);
  json["limbus_centre_px"] = {JsonNumber(eye.limbus_centre_px.x(), 3),
                              JsonNumber(eye.limbus_centre_px.y(), 3)};
  json["limbus_major_px"] = JsonNumber(eye.limbus_major_px, 3);
  json["limbus_visible"] = JsonNumber(eye.visible, 4);
  return json;
}

std::string TruthLine(const simulate::FrameTruth& truth) {
  OrderedJson json;
  json["schema"] = "nearpoint/truth/1";
  json["frame"] = truth.frame;
  json["t_ms"] = JsonMs(truth.time);
  json["distance_mm"] = JsonMm(std::optional(truth.distance));
  json["eye_mid_mm"] = {JsonNumber(truth.eye_mid_mm.x(), 4), JsonNumber(truth.eye_mid_mm.y(), 4),
                        JsonNumber(truth.eye_mid_mm.z(), 4)};
  json["head_rot"] = OrderedJson::array();
  for (int row = 0; row < 3; ++row) {
    for (int column = 0; column < 3; ++column) {
      json["head_rot"].push_back(JsonNumber(truth.camera_from_head(row, column), 6));
    }
  }
  json["vergence_deg"] = JsonDegrees(truth.vergence);
  json["blink"] = JsonNumber(truth.lids_closed, 4);
  json["defocus_px"] = JsonNumber(truth.defocus_px, 3);
  json["left_eye"] = TruthEye(truth.left_eye);
  json["right_eye"] = TruthEye(truth.right_eye);
  return json.dump() + '\n';
}

struct Measured {
  Session session;
  std::vector<DistanceSample> samples;
};

// Sees the frames, the profile and the events: what `measure` would see.
Result<Measured> Measure(FrameSource& frames, const Profile& profile,
                         const std::vector<Event>& events, const EstimateArguments& arguments) {
  auto tracker = MakeTracker(profile);
  if (!tracker) return tl::unexpected(tracker.error());
  Say(ShortestDistanceSentence(profile));
  Measured measured;
  const auto counts = RunTracker(frames, *tracker, "demo", [&](const DistanceSample& sample) {
    measured.samples.push_back(sample);
    return Result<void>();
  });
  if (!counts) return tl::unexpected(counts.error());
  auto session =
      MakeSession(measured.samples, events, profile, SharedOf(*tracker, profile), arguments);
  if (!session) return tl::unexpected(session.error());
  measured.session = *std::move(session);
  measured.session.source = "simulated patient";
  measured.session.frames = counts->frames;
  measured.session.frames_lost = counts->lost;
  measured.session.frames_missing = counts->missing;
  measured.session.cautions = CautionsOfRun(profile, *counts);
  return measured;
}

std::string TrackText(const std::vector<DistanceSample>& samples) {
  std::string text;
  for (const DistanceSample& sample : samples) text += TrackLine(sample) + '\n';
  return text;
}

std::string EventsText(const std::vector<Event>& events) {
  std::string text;
  for (const Event& event : events) text += EventLine(event) + '\n';
  return text;
}

std::optional<TraceMark> MarkOf(const std::optional<ObjectiveEvent>& event) {
  if (!event || !event->distance) return std::nullopt;
  return TraceMark{event->time, event->distance->value};
}

std::string Picture(const Measured& measured, const simulate::Script& script,
                    const EstimateArguments& arguments) {
  TracePicture picture;
  picture.title = "Simulated patient: target distance over time";
  picture.samples = measured.samples;
  picture.trials = measured.session.trials;
  for (const TrialEyes& eyes : measured.session.eyes) {
    picture.eyes.push_back({MarkOf(eyes.objective.break_point), MarkOf(eyes.objective.recovery)});
  }
  picture.estimate = measured.session.estimate;
  picture.plane = arguments.plane;
  for (const simulate::TrialTruth& trial : script.trials) {
    if (!trial.broke) {
      picture.true_breaks.clear();
      break;
    }
    picture.true_breaks.push_back(trial.break_distance);
  }
  return TraceSvg(picture);
}

Result<void> MakeFolder(const std::filesystem::path& folder) {
  std::error_code code;
  std::filesystem::create_directories(folder, code);
  if (std::filesystem::is_directory(folder)) return {};
  return Fail(ErrorCode::kNotWritable, folder.string() + ": this folder cannot be made.");
}

}  // namespace

// An adult with an ordinary webcam. The approach starts nearer and moves back faster than in the
// clinic, so that the demo ends while somebody still watches.
simulate::PatientOptions DemoPatient(const DemoArguments& arguments) {
  simulate::PatientOptions options;
  options.seed = arguments.seed;
  options.optics.aperture = Length::Millimeters(1.2);
  options.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  options.behaviour.trials = arguments.trials;
  options.behaviour.start = Length::Millimeters(320);
  options.behaviour.approach = Speed::MillimetersPerSecond(20);
  options.behaviour.withdrawal = Speed::MillimetersPerSecond(30);
  options.behaviour.frames_per_second = 15;
  return options;
}

Result<void> RunDemo(const DemoArguments& arguments) {
  const std::filesystem::path folder(arguments.out);
  if (auto made = MakeFolder(folder); !made) return made;
  const simulate::PatientOptions patient = DemoPatient(arguments);
  const simulate::Script script = simulate::MakeScript(patient);
  const Profile profile = simulate::TrueProfile(patient);
  const std::vector<Event> events = EventsOf(script);
  Say("Measuring a simulated patient: " + std::to_string(patient.behaviour.trials) + " trials, " +
      std::to_string(script.frame_count) + " frames; this takes about a minute.");

  // Filled by the drawing thread, read when that thread has ended.
  auto truth = std::make_shared<std::string>();
  auto source = simulate::MakePatient(
      patient, [truth](const simulate::FrameTruth& frame) { *truth += TruthLine(frame); });
  if (!source) return tl::unexpected(source.error());
  auto frames = ReadAhead(*std::move(source));
  const auto measured = Measure(*frames, profile, events, arguments.estimate);
  frames.reset();
  if (!measured) return tl::unexpected(measured.error());

  const std::vector<NamedText> files{
      {"session.json", SerializeSession(measured->session)},
      {"profile.json", SerializeProfile(profile)},
      {"events.jsonl", EventsText(events)},
      {"track.jsonl", TrackText(measured->samples)},
      {"truth.jsonl", *truth},
      {"trace.svg", Picture(*measured, script, arguments.estimate)},
  };
  if (auto written = WriteFilesTogether(folder.string(), files); !written) return written;
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  if (auto printed = sink->Write(DemoTable(measured->session, script)); !printed) return printed;
  return sink->Write(
      "\n  Written to " + folder.string() +
      ": session.json, trace.svg, track.jsonl, events.jsonl, profile.json; truth.jsonl apart.\n");
}

}  // namespace nearpoint
