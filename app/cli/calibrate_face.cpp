#include "app/cli/calibrate_face.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "app/cli/console.h"
#include "app/records/json_number.h"
#include "calibration/face_fit.h"
#include "calibration/face_plausible.h"
#include "calibration/face_touch.h"
#include "calibration/face_views.h"
#include "calibration/print_scale.h"
#include "calibration/profile_json.h"
#include "models/landmark_model.h"
#include "vision/camera/open_source.h"
#include "vision/pipeline/face_card_observer.h"
#include "vision/pipeline/held_card_tracker.h"

namespace nearpoint {
namespace {

constexpr double kTouchSeconds = 15;  // of a camera

Result<std::string> VerifiedModel(Result<std::string> file) {
  if (!file) return file;
  if (auto verified = VerifyModel(*file); !verified) return tl::unexpected(verified.error());
  return file;
}

Result<std::unique_ptr<FrameSource>> OpenFor(const Profile& profile, const std::string& file,
                                             const std::string& name) {
  auto source = OpenSource(name, ImageSize{profile.camera.width, profile.camera.height});
  if (!source) return source;
  const SourceInfo info = (*source)->info();
  if (auto size = CheckPictures(profile, file, info); !size) {
    return tl::unexpected(size.error());
  }
  return source;
}

// What keeps most of the pictures from counting: said when too few are left.
std::string MostFrequent(const std::map<std::string, int>& reasons) {
  const auto most =
      std::max_element(reasons.begin(), reasons.end(),
                       [](const auto& a, const auto& b) { return a.second < b.second; });
  if (most == reasons.end()) return "";
  return " In " + std::to_string(most->second) + " other pictures " + most->first + ".";
}

class Guide {
 public:
  explicit Guide(bool live) : live_(live) {}
  void Tell(const std::string& words) {
    if (!live_ || words == told_) return;
    told_ = words;
    Say(words);
  }

 private:
  bool live_;
  std::string told_;
};

struct Collected {
  FaceViews views;
  std::map<std::string, int> reasons;
  std::int64_t frames = 0;
};

Result<Collected> Collect(FrameSource& source, FaceCardObserver& observer) {
  const SourceInfo info = source.info();
  Guide guide(info.live);
  guide.Tell(
      "Hold the card flat on the forehead, pattern to the camera, eyes free; look into the lens "
      "and "
      "turn the head slowly to one side and to the other.");
  ProgressLine progress("calibrate face", info.frame_count);
  Collected out;
  while (!StopRequested()) {
    auto frame = source.Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) break;
    const auto seen = observer.Process(**frame);
    if (!seen) return tl::unexpected(seen.error());
    progress.Show(++out.frames);
    if (!seen->view) {
      const std::string why(seen->pattern ? ToText(*seen->pattern) : ToText(*seen->why));
      ++out.reasons[why];
      guide.Tell("Now " + why + ".");
      continue;
    }
    out.views.Add(*seen->view, seen->turn_deg);
    guide.Tell(out.views.TurnedDeg() < FaceViews::kEnoughTurnDeg
                   ? "Good. Turn the head a little further to both sides."
                   : "Good. Go on until this stops.");
    if (info.live && out.views.Enough()) break;
  }
  return out;
}

nlohmann::ordered_json ResultJson(const FaceFit& fit, const std::vector<FaceDoubt>& doubts,
                                  std::optional<double> age) {
  nlohmann::ordered_json json;
  json["face"] = nlohmann::ordered_json::object();
  const auto put = [&](const std::string& name, const std::optional<UncertainLength>& length) {
    json["face"][name] =
        length ? JsonNumber(length->value.mm(), 2) : nlohmann::ordered_json(nullptr);
    json["face"][name + "_sd"] =
        length ? JsonNumber(length->sd.mm(), 2) : nlohmann::ordered_json(nullptr);
  };
  put("outer_corners_mm", fit.face.outer_corners);
  put("inner_corners_mm", fit.face.inner_corners);
  put("outer_corner_depth_mm", fit.face.outer_corner_depth);
  put("inner_corner_depth_mm", fit.face.inner_corner_depth);
  put("iris_mm", fit.face.iris);
  put("distance_pd_mm", fit.face.distance_pd);
  json["people"] = nlohmann::ordered_json::object();
  for (const FaceRange& range : FaceRanges(age)) {
    json["people"][std::string(range.name)] = {{"mean", JsonNumber(range.mean_mm, 2)},
                                               {"sd", JsonNumber(range.sd_mm, 2)}};
  }
  json["eyes_behind_card_mm"] = JsonNumber(fit.eyes_behind_card.mm(), 1);
  json["turn_deg"] = JsonNumber(fit.turn_deg, 1);
  json["misfit_px"] = JsonNumber(fit.misfit_px, 3);
  json["pictures"] = fit.views_used;
  json["pictures_left_out"] = fit.views_left_out;
  json["doubts"] = nlohmann::ordered_json::array();
  for (const FaceDoubt& doubt : doubts) json["doubts"].push_back(doubt.text);
  return json;
}

// What an unmeasured print costs; said once something was measured with it.
void SayWherePrintIsUnknown(const Profile& profile) {
  if (PrintIsMeasured(profile)) return;
  char text[160];
  std::snprintf(text, sizeof text,
                "The print was not measured: every length counts as known to %.0f %% only, and the "
                "profile says so.",
                100 * kUncheckedPrintSd);
  Say(text);
}

void AddUncheckedPrint(CLI::App& command, bool& unchecked) {
  command.add_flag("--unchecked-print", unchecked,
                   "go on although nobody has measured the printed card; every length then counts "
                   "as known to 4 % only");
}

void AddSourceAndProfile(CLI::App& command, CalibrateArguments& common, std::string& source) {
  command
      .add_option("--source", source,
                  "camera number, video file, or folder of images with frames.jsonl")
      ->required();
  command.add_option("--profile", common.profile, "PROFILE.json that is extended")->required();
  command.add_option("--person", common.person,
                     "name or number of the person, kept in the profile");
}

}  // namespace

Result<void> RunCalibrateFace(const CalibrateFaceArguments& arguments) {
  auto profile = ReadProfileToExtend(arguments.common.profile);
  if (!profile) return tl::unexpected(profile.error());
  if (!arguments.unchecked_print) {
    if (auto print = NeedMeasuredPrint(*profile, arguments.common.profile); !print) return print;
  }
  auto source = OpenFor(*profile, arguments.common.profile, arguments.source);
  if (!source) return tl::unexpected(source.error());
  const auto model = VerifiedModel(FindLandmarkModel());
  if (!model) return tl::unexpected(model.error());
  const auto corners = VerifiedModel(FindLidCornerModel());
  if (!corners) return tl::unexpected(corners.error());
  auto observer = FaceCardObserver::Create(profile->camera, {*model, *corners});
  if (!observer) return tl::unexpected(observer.error());
  const auto collected = Collect(**source, *observer);
  if (!collected) return tl::unexpected(collected.error());
  FaceFitOptions options;
  const PrintScale print = PrintOf(*profile);
  options.card_rel_sd = print.sd;
  options.card_scale = LengthFactor(print);
  const auto fit = FitFaceScale(collected->views.Chosen(), profile->camera, options);
  if (!fit) {
    return Fail(fit.error().code,
                arguments.source + ": " + fit.error().message + MostFrequent(collected->reasons));
  }
  const auto doubts = FaceDoubts(fit->face, arguments.age);
  if (!doubts.empty() && !arguments.unusual) {
    std::string all;
    for (const FaceDoubt& doubt : doubts) all += doubt.text + " ";
    return Fail(ErrorCode::kBadValue,
                arguments.source + ": " + all +
                    "Repeat it; if it stays and the card is right, keep it with --unusual.");
  }
  // A pupil distance belongs to a person; what was measured on another is not mixed in.
  std::optional<bool> with_glasses;
  if (!arguments.glasses.empty()) with_glasses = arguments.glasses == "on";
  profile->face = NewScale(profile->face, fit->face, with_glasses);
  CalibrateArguments common = arguments.common;
  if (common.device.empty()) common.device = DeviceNameOf(arguments.source);
  profile->made.face =
      OriginNow(common, "card on the face, " + std::to_string(fit->views_used) + " pictures" +
                            (PrintIsMeasured(*profile) ? "" : kPrintNotMeasured));
  if (profile->held_card && profile->held_card->zero) {
    profile->held_card->zero.reset();
    Say("The zero of the held card belongs to the scale before; touch the nose again with "
        "`nearpoint calibrate touch`.");
  }
  if (auto written = WriteProfile(*profile, common.profile); !written) return written;
  SayWherePrintIsUnknown(*profile);
  for (const FaceDoubt& doubt : doubts) Say(doubt.text);
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  return sink->Write(ResultJson(*fit, doubts, arguments.age).dump(2) + "\n");
}

Result<void> RunCalibrateTouch(const CalibrateTouchArguments& arguments) {
  auto profile = ReadProfileToExtend(arguments.common.profile);
  if (!profile) return tl::unexpected(profile.error());
  if (!arguments.unchecked_print) {
    if (auto print = NeedMeasuredPrint(*profile, arguments.common.profile); !print) return print;
  }
  auto source = OpenFor(*profile, arguments.common.profile, arguments.source);
  if (!source) return tl::unexpected(source.error());
  const auto model = VerifiedModel(FindLandmarkModel());
  if (!model) return tl::unexpected(model.error());
  if (!profile->held_card) profile->held_card = HeldCardSetup{};
  profile->held_card->zero.reset();
  auto tracker = HeldCardTracker::Create(*profile, *model);
  if (!tracker) return tl::unexpected(tracker.error());

  const SourceInfo info = (*source)->info();
  if (info.live) {
    Say("Look into the lens without the card, hold the card up at arm's length below the eyes, "
        "then "
        "lay its upper edge on the bridge of the nose and keep it there.");
  }
  ProgressLine progress("calibrate touch", info.frame_count);
  std::vector<TouchSample> samples;
  TouchOptions options;
  std::map<std::string, int> reasons;
  std::optional<Time> first;
  std::int64_t frames = 0;
  while (!StopRequested()) {
    auto frame = (*source)->Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) break;
    const auto sample = tracker->Process(**frame);
    if (!sample) return tl::unexpected(sample.error());
    progress.Show(++frames);
    if (!first) first = sample->time;
    if (sample->distance) {
      samples.push_back(SampleTouch(sample->time, *tracker->target_mm(), *sample->eye_mid_mm,
                                    sample->distance->sd));
      samples.back().aspect = tracker->print_aspect();
    } else if (sample->why) {
      ++reasons[std::string(ToText(*sample->why))];
      if (*sample->why == LostReason::kTooDark) ++options.too_dark;
    }
    if (info.live && ToSeconds(sample->time - *first) > kTouchSeconds) break;
  }
  const Length touch =
      arguments.touch_mm ? Length::Millimeters(*arguments.touch_mm) : kTouchDepth.value;
  const Length touch_sd = arguments.touch_mm ? Length::Millimeters(1) : kTouchDepth.sd;
  const auto zero = ZeroFromTouch(samples, touch, touch_sd, options);
  if (!zero) {
    return Fail(zero.error().code,
                arguments.source + ": " + zero.error().message + MostFrequent(reasons));
  }
  profile->held_card->zero = *zero;
  if (auto written = WriteProfile(*profile, arguments.common.profile); !written) return written;
  SayWherePrintIsUnknown(*profile);
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  nlohmann::ordered_json json;
  json["zero_mm"] = JsonNumber(zero->value.mm(), 2);
  json["zero_mm_sd"] = JsonNumber(zero->sd.mm(), 2);
  json["touch_mm"] = JsonNumber(touch.mm(), 1);
  json["touch_mm_sd"] = JsonNumber(touch_sd.mm(), 1);
  json["pictures"] = samples.size();
  return sink->Write(json.dump(2) + "\n");
}

void AddCalibrateFace(CLI::App& calibrate, const std::string& software,
                      CalibrateFaceOptions& options, std::function<Result<void>()>& work) {
  options.face.common.software = software;
  options.touch.common.software = software;
  CLI::App* face = calibrate.add_subcommand(
      "face", "Personal scale from the card held flat on the forehead or under the nose");
  AddSourceAndProfile(*face, options.face.common, options.face.source);
  face->add_option("--age", options.face.age, "years; what is usual depends on it")
      ->check(CLI::Range(3.0, 120.0));
  face->add_flag("--unusual", options.face.unusual,
                 "keep a result that people rarely have, after it was repeated");
  face->add_option("--glasses", options.face.glasses,
                   "whether glasses are on now: the scale belongs to what their lenses show")
      ->check(CLI::IsMember({"on", "off"}));
  AddUncheckedPrint(*face, options.face.unchecked_print);
  face->callback([&] { work = [&] { return RunCalibrateFace(options.face); }; });

  CLI::App* touch = calibrate.add_subcommand(
      "touch", "Zero of the held card: its upper edge laid on the bridge of the nose");
  AddSourceAndProfile(*touch, options.touch.common, options.touch.source);
  touch
      ->add_option(
          "--touch-mm", options.touch.touch_mm,
          "how far the letter is before the corneal plane in touch, if measured on the person")
      ->check(CLI::Range(5.0, 50.0));
  AddUncheckedPrint(*touch, options.touch.unchecked_print);
  touch->callback([&] { work = [&] { return RunCalibrateTouch(options.touch); }; });
}

}  // namespace nearpoint
