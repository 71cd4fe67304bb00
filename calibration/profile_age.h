// Which parts of a profile are too old to be used without a word.
#pragma once

#include <chrono>
#include <vector>

#include "calibration/origin.h"

namespace nearpoint {

enum class ProfilePart { kCamera, kFace, kTarget, kLag };

struct PartAge {
  ProfilePart part = ProfilePart::kCamera;
  enum class Kind {
    kUnknown,  // never measured, or nobody wrote down when
    kFuture,   // dated after today
    kOld,
  } kind = Kind::kUnknown;
  int days = 0;  // since it was measured, for kOld
};

// Only what calls for a word; by the limits that AgeCautions states (origin.h), which says the same
// in sentences. A day ahead passes: dates are UTC.
[[nodiscard]] std::vector<PartAge> AgesOf(const ProfileOrigins& made, std::chrono::sys_days today);

// When that part was measured.
[[nodiscard]] const std::optional<Origin>& OriginOf(const ProfileOrigins& made, ProfilePart part);

}  // namespace nearpoint
