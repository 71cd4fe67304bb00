#include "app/cli/calibrate_screen.h"

#include <nlohmann/json.hpp>

#include "app/cli/console.h"
#include "app/records/json_number.h"
#include "calibration/screen.h"

namespace nearpoint {
namespace {

struct Placed {
  TargetPlace target;
  std::optional<ScreenScale> scale;
  std::string method;
};

Result<Placed> Place(const CalibrateScreenArguments& a) {
  if (a.strip_mm) {
    const auto target = TargetOnStrip(a.strip_mm->x(), a.strip_mm->y());
    if (!target) return tl::unexpected(target.error());
    return Placed{*target, std::nullopt, "printed strip under the lens"};
  }
  const auto scale = ScaleFromOutline(a.outline_px->x(), a.outline_px->y());
  if (!scale) return tl::unexpected(scale.error());
  if (a.screen_px && a.reported_mm) {
    const auto differs =
        CompareWithReported(*scale, static_cast<int>(a.screen_px->x()), a.reported_mm->x());
    if (differs) Say(*differs);
  }
  const auto target = TargetOnScreen(*scale, *a.target_px, *a.lens_mm);
  if (!target) return tl::unexpected(target.error());
  return Placed{*target, *scale, "on the screen, by the outline of a card"};
}

}  // namespace

Result<void> RunCalibrateScreen(const CalibrateScreenArguments& arguments) {
  auto profile = ReadProfileToExtend(arguments.common.profile);
  if (!profile) return tl::unexpected(profile.error());
  const auto placed = Place(arguments);
  if (!placed) return tl::unexpected(placed.error());
  profile->target_mm = placed->target.in_camera_mm;
  profile->target_sd = Length::Millimeters(placed->target.sd_mm);
  CalibrateArguments common = arguments.common;
  // The target is placed for the camera of this profile.
  if (common.device.empty() && profile->made.camera) common.device = profile->made.camera->device;
  profile->made.target = OriginNow(common, placed->method);
  if (auto written = WriteProfile(*profile, common.profile); !written) return written;

  nlohmann::ordered_json json;
  json["target_mm"] = {JsonNumber(profile->target_mm.x(), 2), JsonNumber(profile->target_mm.y(), 2),
                       JsonNumber(profile->target_mm.z(), 2)};
  json["target_sd_mm"] = JsonNumber(placed->target.sd_mm, 2);
  json["mm_per_px"] = nullptr;
  json["mm_per_px_rel_sd"] = nullptr;
  if (placed->scale) {
    json["mm_per_px"] = JsonNumber(placed->scale->mm_per_px, 5);
    json["mm_per_px_rel_sd"] = JsonNumber(placed->scale->relative_sd, 5);
  }
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  return sink->Write(json.dump(2) + "\n");
}

}  // namespace nearpoint
