#include "app/cli/calibrate_lag.h"

#include <nlohmann/json.hpp>
#include <random>
#include <sstream>
#include <vector>

#include "app/cli/console.h"
#include "app/cli/reaction_terminal.h"
#include "app/records/atomic_file.h"
#include "app/records/json_number.h"
#include "calibration/json_fields.h"
#include "calibration/lag_task.h"
#include "vision/camera/webcam.h"

namespace nearpoint {
namespace {

std::string TimesCsv(const std::vector<LagPress>& presses) {
  std::ostringstream out;
  out.precision(10);
  out << "shown_ms,pressed_ms\n";
  for (const LagPress& press : presses) {
    out << ToMilliseconds(press.shown) << ',';
    if (press.pressed) out << ToMilliseconds(*press.pressed);
    out << '\n';
  }
  return out.str();
}

Result<std::vector<LagPress>> Presses(const CalibrateLagArguments& arguments) {
  if (!arguments.times) {
    auto presses = RunReactionTerminal(ReactionTask(std::random_device{}()));
    if (!presses || !arguments.out_times) return presses;
    if (auto kept = WriteFileAtomically(*arguments.out_times, TimesCsv(*presses)); !kept) {
      return tl::unexpected(kept.error());
    }
    return presses;
  }
  const auto text = ReadTextFile(*arguments.times);
  if (!text) return tl::unexpected(text.error());
  return ParseLagCsv(*text, *arguments.times);
}

// Three seconds of pictures tell how late the camera is; without one its rate bounds it.
Result<PipelineDelay> Delay(const CalibrateLagArguments& arguments, const Profile& profile) {
  if (!arguments.camera) {
    return BoundPipelineDelay(arguments.refreshes_per_second, arguments.frames_per_second);
  }
  constexpr int kPictures = 90;
  const auto stamps = TimeWebcam(*arguments.camera,
                                 ImageSize{profile.camera.width, profile.camera.height}, kPictures);
  if (!stamps) return tl::unexpected(stamps.error());
  const auto timing = MeasureCapture(*stamps);
  if (!timing) return tl::unexpected(timing.error());
  return BoundPipelineDelay(arguments.refreshes_per_second, *timing);
}

}  // namespace

Result<void> RunCalibrateLag(const CalibrateLagArguments& arguments) {
  auto profile = ReadProfileToExtend(arguments.common.profile);
  if (!profile) return tl::unexpected(profile.error());
  const auto delay = Delay(arguments, *profile);
  if (!delay) return tl::unexpected(delay.error());
  const auto presses = Presses(arguments);
  if (!presses) return tl::unexpected(presses.error());
  const auto result = EvaluateLag(*presses, *delay);
  if (!result) return tl::unexpected(result.error());

  profile->lag = result->lag;
  profile->lag_sd = result->lag_sd;
  CalibrateArguments common = arguments.common;
  // A response time belongs to a person, not to a camera.
  common.device.clear();
  if (common.person.empty() && profile->made.face) common.person = profile->made.face->person;
  profile->made.lag = OriginNow(common, "reaction task, " + std::to_string(result->counted) +
                                            " presses; " + StatementInShort(*delay));
  if (auto written = WriteProfile(*profile, common.profile); !written) return written;
  Say(Statement(*delay));

  nlohmann::ordered_json json;
  json["reaction_ms"] = JsonNumber(ToMilliseconds(result->reaction_mean), 1);
  json["reaction_sd_ms"] = JsonNumber(ToMilliseconds(result->reaction_sd), 1);
  json["counted"] = result->counted;
  json["display_ms"] = JsonNumber(ToMilliseconds(delay->display), 1);
  json["display_sd_ms"] = JsonNumber(ToMilliseconds(delay->display_sd), 1);
  json["capture_ms"] = JsonNumber(ToMilliseconds(delay->capture), 1);
  json["capture_sd_ms"] = JsonNumber(ToMilliseconds(delay->capture_sd), 1);
  json["capture_measured"] = delay->capture_measured;
  json["judgement_ms"] = kJudgementMs;
  json["lag_ms"] = JsonNumber(ToMilliseconds(result->lag), 1);
  json["lag_sd_ms"] = JsonNumber(ToMilliseconds(result->lag_sd), 1);
  json["presses"] = nlohmann::ordered_json::array();
  for (std::size_t i = 0; i < presses->size(); ++i) {
    const LagPress& press = (*presses)[i];
    nlohmann::ordered_json row;
    row["ms"] =
        press.pressed
            ? nlohmann::ordered_json(JsonNumber(ToMilliseconds(*press.pressed - press.shown), 1))
            : nlohmann::ordered_json(nullptr);
    row["use"] = ToText(result->uses[i]);
    json["presses"].push_back(std::move(row));
  }
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  return sink->Write(json.dump(2) + "\n");
}

}  // namespace nearpoint
