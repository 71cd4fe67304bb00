#include "app/profile/profile_file.h"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>

#include "app/records/atomic_file.h"
#include "calibration/lag_task.h"
#include "calibration/print_scale.h"
#include "calibration/profile_json.h"
#include "calibration/screen.h"

namespace nearpoint {

std::chrono::sys_days Today() {
  return std::chrono::floor<std::chrono::days>(std::chrono::system_clock::now());
}

std::string DeviceNameOf(const std::string& source) {
  const bool number = !source.empty() && std::ranges::all_of(source, [](unsigned char c) {
    return std::isdigit(c) != 0;
  });
  if (!number) return {};
  std::ifstream file("/sys/class/video4linux/video" + source + "/name");
  std::string name;
  std::getline(file, name);
  return name;
}

Profile ProfileOfCamera(const CameraIntrinsics& camera) {
  Profile profile;
  profile.camera = camera;
  const TargetPlace target = AssumedTarget();
  profile.target_mm = target.in_camera_mm;
  profile.target_sd = Length::Millimeters(target.sd_mm);
  profile.lag = FromMilliseconds(kAssumedLagMs);
  profile.lag_sd = FromMilliseconds(kAssumedLagSdMs);
  return profile;
}

Result<Profile> ReadProfileToExtend(const std::string& file) {
  if (!std::filesystem::exists(file)) {
    return Fail(ErrorCode::kNotFound, file +
                                          " does not exist; `nearpoint calibrate camera` makes it "
                                          "first.");
  }
  return ReadProfile(file);
}

Result<Profile> ReadProfileFor(const std::string& file, const std::string& source,
                               const std::string& person) {
  auto profile = ReadProfile(file);
  if (!profile) return profile;
  const Present present{Today(), DeviceNameOf(source), person};
  if (auto belongs = CheckBelongs(profile->made, present, file); !belongs) {
    return tl::unexpected(belongs.error());
  }
  return profile;
}

Result<void> CheckPictures(const Profile& profile, const std::string& file,
                           const SourceInfo& pictures) {
  auto size = CheckImageSize(profile, pictures.width, pictures.height);
  if (!size) size.error().message = file + ": " + size.error().message;
  return size;
}

Result<void> NeedMeasuredPrint(const Profile& profile, const std::string& file) {
  if (PrintIsMeasured(profile)) return {};
  return Fail(ErrorCode::kMismatch,
              file +
                  ": nobody has measured the printed card, and at 94 % every length would come out "
                  "6 % too large; lay a bank card on its place on the sheet and run `nearpoint "
                  "calibrate sheet --check SRC --profile PROFILE.json`, or give the 100 mm line by "
                  "a ruler with --ruler-mm; --unchecked-print goes on without it.");
}

Origin OriginNow(const CalibrateArguments& arguments, const std::string& method) {
  return {Today(), arguments.device, arguments.person, arguments.software, method};
}

Result<void> WriteProfile(const Profile& profile, const std::string& file) {
  if (auto belongs = CheckBelongs(profile.made, {Today(), "", ""}, file); !belongs) return belongs;
  return WriteFileAtomically(file, SerializeProfile(profile));
}

}  // namespace nearpoint
