// The profile file as the calibrate commands see it: read, one part replaced, written whole.
#pragma once

#include <chrono>
#include <string>

#include "calibration/profile.h"
#include "vision/camera/frame_source.h"
#include "vision/core/result.h"

namespace nearpoint {

// What all calibrate commands are told.
struct CalibrateArguments {
  std::string profile;   // PROFILE.json
  std::string person;    // empty: not said
  std::string device;    // empty: the camera's own name where it has one
  std::string software;  // version of this program
};

[[nodiscard]] std::chrono::sys_days Today();

// The name a camera gives itself (camera number as the source), or empty.
[[nodiscard]] std::string DeviceNameOf(const std::string& source);

// A profile in which only the camera is measured: population values for the face, the strip of the
// sheet as the target and a typical response time, each with the spread that goes with not knowing.
[[nodiscard]] Profile ProfileOfCamera(const CameraIntrinsics& camera);

// kNotFound with what to do first where the file is not there.
[[nodiscard]] Result<Profile> ReadProfileToExtend(const std::string& file);

// A profile to measure with: refused where it is of another person or another camera than those
// present, or mixes two of them. source: SRC; person: empty where nobody said.
[[nodiscard]] Result<Profile> ReadProfileFor(const std::string& file, const std::string& source,
                                             const std::string& person);

// kMismatch naming the file and both sizes where the pictures are not those of the profile's
// camera.
[[nodiscard]] Result<void> CheckPictures(const Profile& profile, const std::string& file,
                                         const SourceInfo& pictures);

// kMismatch, with what to do, where nobody has measured the print of the pattern card: a print at
// 94 % makes every length 6 % too large, and no picture of it alone shows that.
[[nodiscard]] Result<void> NeedMeasuredPrint(const Profile& profile, const std::string& file);

[[nodiscard]] Origin OriginNow(const CalibrateArguments& arguments, const std::string& method);

// Refuses what would mix two persons or cameras; then writes. Errors: kMismatch, kNotWritable.
[[nodiscard]] Result<void> WriteProfile(const Profile& profile, const std::string& file);

}  // namespace nearpoint
