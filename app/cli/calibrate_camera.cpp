#include "app/cli/calibrate_camera.h"

#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <optional>
#include <utility>
#include <vector>

#include "app/cli/console.h"
#include "app/records/json_number.h"
#include "calibration/camera_views.h"
#include "calibration/print_scale.h"
#include "calibration/profile_json.h"
#include "vision/camera/open_source.h"
#include "vision/card/find_pattern.h"
#include "vision/card/find_plain_card.h"

namespace nearpoint {
namespace {

struct Seen {
  std::optional<CardView> view;
  std::string why;  // where there is none
};

Seen Look(const cv::Mat& picture, CardKind card) {
  if (card == CardKind::kPlain) {
    const auto found = FindPlainCard(picture);
    if (found) return {found->edges, ""};
    return {std::nullopt, std::string(ToText(found.error()))};
  }
  PatternOptions options;
  options.least_markers = 4;
  const auto found = FindPattern(picture, options);
  if (found) return {found->edges, ""};
  return {std::nullopt, std::string(ToText(found.error()))};
}

std::string InWords(ViewStep step, const CameraGuidance& guide) {
  switch (step) {
    case ViewStep::kNoCard:
    case ViewStep::kMoving:
      return "";
    case ViewStep::kSame:
      return std::string(ToText(ViewUse::kSame));
    case ViewStep::kTooSmall:
      return std::string(ToText(ViewUse::kTooSmall));
    case ViewStep::kTooSteep:
      return std::string(ToText(ViewUse::kTooSteep));
    case ViewStep::kTaken:
      return "View " + std::to_string(guide.views) + " taken. " + guide.next;
  }
  return "";
}

// Finds the card in each picture, and guides whoever holds it before a camera.
class Collector {
 public:
  Collector(const SourceInfo& info, CardKind card)
      : live_(info.live), card_(card), views_(info.width, info.height, info.live) {}

  void Offer(const Frame& frame) {
    ++pictures_;
    const Seen seen = Look(frame.bgr(), card_);
    const ViewStep step = views_.Offer(frame.time(), frame.index(), seen.view);
    const std::string words = step == ViewStep::kNoCard ? seen.why : InWords(step, views_.Guide());
    if (words.empty()) return;
    if (step != ViewStep::kTaken) last_why_ = words;
    // Only a person in front of a camera is guided, and told each thing once.
    if (!live_ || words == told_) return;
    told_ = words;
    Say(words);
  }

  [[nodiscard]] const CameraViews& views() const { return views_; }
  [[nodiscard]] std::int64_t pictures() const { return pictures_; }
  [[nodiscard]] const std::string& last_why() const { return last_why_; }

 private:
  bool live_;
  CardKind card_;
  CameraViews views_;
  std::int64_t pictures_ = 0;
  std::string last_why_, told_;
};

nlohmann::ordered_json ResultJson(const CameraCalibration& result, const Collector& collector) {
  const CameraAdjustment& a = result.adjustment;
  nlohmann::ordered_json json;
  json["verdict"] = result.verdict == CameraVerdict::kGood ? "good" : "coarse";
  json["reason"] = result.reason;
  json["fx"] = JsonNumber(a.camera.fx, 3);
  json["fy"] = JsonNumber(a.camera.fy, 3);
  json["cx"] = JsonNumber(a.camera.cx, 3);
  json["cy"] = JsonNumber(a.camera.cy, 3);
  json["distortion"] = a.camera.distortion;
  json["focal_rel_sd"] = JsonNumber(a.camera.focal_rel_sd, 6);
  json["sd"] = {{"fx", JsonNumber(std::sqrt(a.covariance(0, 0)), 3)},
                {"fy", JsonNumber(std::sqrt(a.covariance(1, 1)), 3)},
                {"cx", JsonNumber(std::sqrt(a.covariance(2, 2)), 3)},
                {"cy", JsonNumber(std::sqrt(a.covariance(3, 3)), 3)}};
  json["rms_px"] = JsonNumber(a.rms_px, 4);
  json["card_bow_mm"] = {JsonNumber(a.bow_x_mm, 3), JsonNumber(a.bow_y_mm, 3)};
  json["views"] = nlohmann::ordered_json::array();
  for (std::size_t i = 0; i < a.views.size(); ++i) {
    const PlacedView& view = a.views[i];
    nlohmann::ordered_json row;
    row["frame"] = collector.views().frames()[i];
    row["tilt_deg"] = JsonNumber(view.tilt_deg, 1);
    row["distance_mm"] = JsonNumber(view.card_in_camera_mm.norm(), 1);
    row["rms_px"] = JsonNumber(view.rms_px, 4);
    row["note"] = result.view_notes[i].empty() ? nlohmann::ordered_json(nullptr)
                                               : nlohmann::ordered_json(result.view_notes[i]);
    json["views"].push_back(std::move(row));
  }
  return json;
}

// The rest of an existing profile stays where it belongs to the same camera.
Result<Profile> WithCamera(const CalibrateArguments& common, const CameraIntrinsics& camera,
                           const Origin& origin) {
  Profile profile = ProfileOfCamera(camera);
  if (std::filesystem::exists(common.profile)) {
    auto before = ReadProfile(common.profile);
    if (!before) return tl::unexpected(before.error());
    const auto& made = before->made.target;
    const bool moved =
        made && !made->device.empty() && !origin.device.empty() && made->device != origin.device;
    if (moved) {
      Say("The target was placed by another camera; `nearpoint calibrate screen` places it anew.");
      before->target_mm = profile.target_mm;
      before->target_sd = profile.target_sd;
      before->made.target.reset();
    }
    before->camera = camera;
    profile = *std::move(before);
  }
  profile.made.camera = origin;
  return profile;
}

}  // namespace

Result<void> RunCalibrateCamera(const CalibrateCameraArguments& arguments) {
  auto source = OpenSource(arguments.source);
  if (!source) return tl::unexpected(source.error());
  const SourceInfo info = (*source)->info();
  Collector collector(info, arguments.card);
  if (info.live) Say(collector.views().Guide().next);
  ProgressLine progress("calibrate camera", info.frame_count);
  while (!StopRequested() && !collector.views().Enough()) {
    auto frame = (*source)->Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) break;
    collector.Offer(**frame);
    progress.Show(collector.pictures());
  }
  if (collector.views().views().empty()) {
    return Fail(ErrorCode::kInsufficient,
                arguments.source + ": the card is usable in none of " +
                    std::to_string(collector.pictures()) + " pictures" +
                    (collector.last_why().empty() ? "" : ": " + collector.last_why()) + ".");
  }
  const auto result =
      CalibrateCamera(collector.views().views(), info.width, info.height, arguments.card);
  if (!result) {
    return Fail(result.error().code, arguments.source + ": " + result.error().message);
  }
  if (result->verdict == CameraVerdict::kRefused) {
    return Fail(ErrorCode::kInsufficient, arguments.source + ": " + result->reason);
  }
  CalibrateArguments common = arguments.common;
  if (common.device.empty()) common.device = DeviceNameOf(arguments.source);
  const std::string method =
      (arguments.card == CardKind::kPattern ? "pattern card, " : "plain card, ") +
      std::to_string(collector.views().views().size()) + " views";
  const auto profile = WithCamera(common, result->adjustment.camera, OriginNow(common, method));
  if (!profile) return tl::unexpected(profile.error());
  if (auto written = WriteProfile(*profile, common.profile); !written) return written;
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  Say(result->reason);
  if (arguments.card == CardKind::kPattern && !PrintIsMeasured(*profile)) {
    Say("The size of the print does not enter the camera; before the face it must be measured: "
        "`nearpoint calibrate sheet --check` or `--ruler-mm`.");
  }
  return sink->Write(ResultJson(*result, collector).dump(2) + "\n");
}

}  // namespace nearpoint
