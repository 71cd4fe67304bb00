// PROFILE.json, schema "nearpoint/profile/1".
#pragma once

#include <string>
#include <string_view>

#include "calibration/profile.h"
#include "vision/core/result.h"

namespace nearpoint {

// Every field of the contract must be there; a face value may be null, otherwise its NAME_sd must
// be a number. "measured_with_glasses" and "glasses" (glasses_json.h) of the
// face may be missing. Values outside what a camera or a face can be are refused with the unit that
// was expected, since most of them are slips of a unit. Fields that are not in the contract are
// allowed unless their name is one letter away from one that is. "origin" (origin.h) may be
// missing. Errors: kNotFound (a field is missing), kBadValue. where: the file, for messages.
[[nodiscard]] Result<Profile> ParseProfile(std::string_view text, const std::string& where);

// Adds kNotFound and kUnreadable for the file itself.
[[nodiscard]] Result<Profile> ReadProfile(const std::string& file);

// The document, indented, with a newline at its end. ParseProfile of it gives the same profile.
[[nodiscard]] std::string SerializeProfile(const Profile& profile);

// kMismatch, naming both sizes, unless pictures of this size belong to the profile's camera.
[[nodiscard]] Result<void> CheckImageSize(const Profile& profile, int width, int height);

}  // namespace nearpoint
