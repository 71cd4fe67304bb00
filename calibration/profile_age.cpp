#include "calibration/profile_age.h"

#include <array>

namespace nearpoint {
namespace {

struct Limit {
  ProfilePart part;
  int good_for_days;
};
constexpr std::array<Limit, 4> kLimits{{{ProfilePart::kCamera, 730},
                                        {ProfilePart::kFace, 183},
                                        {ProfilePart::kTarget, 183},
                                        {ProfilePart::kLag, 365}}};

}  // namespace

const std::optional<Origin>& OriginOf(const ProfileOrigins& made, ProfilePart part) {
  switch (part) {
    case ProfilePart::kCamera:
      return made.camera;
    case ProfilePart::kFace:
      return made.face;
    case ProfilePart::kTarget:
      return made.target;
    case ProfilePart::kLag:
      break;
  }
  return made.lag;
}

std::vector<PartAge> AgesOf(const ProfileOrigins& made, std::chrono::sys_days today) {
  std::vector<PartAge> ages;
  for (const auto& [part, good_for_days] : kLimits) {
    const auto& origin = OriginOf(made, part);
    if (!origin) {
      ages.push_back({part, PartAge::Kind::kUnknown, 0});
      continue;
    }
    const int days = static_cast<int>((today - origin->date).count());
    if (days < -1) {
      ages.push_back({part, PartAge::Kind::kFuture, 0});
    } else if (days > good_for_days) {
      ages.push_back({part, PartAge::Kind::kOld, days});
    }
  }
  return ages;
}

}  // namespace nearpoint
