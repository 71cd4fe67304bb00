#include "calibration/origin.h"

#include <cstdio>

#include "calibration/profile_age.h"

namespace nearpoint {
namespace {

struct PartWords {
  const char* name;
  const char* command;  // of `nearpoint calibrate`
};

PartWords WordsFor(ProfilePart part) {
  switch (part) {
    case ProfilePart::kCamera:
      return {"camera", "camera"};
    case ProfilePart::kFace:
      return {"face", "face"};
    case ProfilePart::kTarget:
      return {"place of the target", "screen"};
    case ProfilePart::kLag:
      break;
  }
  return {"response time", "lag"};
}

bool Differ(const std::string& a, const std::string& b) {
  return !a.empty() && !b.empty() && a != b;
}

const std::string& PersonOf(const std::optional<Origin>& origin) {
  static const std::string nobody;
  return origin ? origin->person : nobody;
}

const std::string& DeviceOf(const std::optional<Origin>& origin) {
  static const std::string nothing;
  return origin ? origin->device : nothing;
}

std::string Months(int days) {
  const int months = days / 30;
  return months < 24 ? std::to_string(months) + " months" : std::to_string(days / 365) + " years";
}

std::string Sentence(const PartAge& age, const std::optional<Origin>& origin) {
  const auto [name, command] = WordsFor(age.part);
  const std::string remedy = std::string("`nearpoint calibrate ") + command + "` measures it";
  const std::string day = origin ? FormatDay(origin->date) : std::string();
  switch (age.kind) {
    case PartAge::Kind::kUnknown:
      return std::string("When the ") + name + " was measured is not known; " + remedy + ".";
    case PartAge::Kind::kFuture:
      return std::string("The ") + name + " is dated " + day +
             ", which is still to come; check the clock.";
    case PartAge::Kind::kOld:
      break;
  }
  return std::string("The ") + name + " was measured " + Months(age.days) + " ago, on " + day +
         "; " + remedy + " anew.";
}

}  // namespace

std::optional<std::chrono::sys_days> ParseDay(const std::string& text) {
  int year = 0, end = 0;
  unsigned month = 0, day = 0;
  if (text.size() != 10 ||
      std::sscanf(text.c_str(), "%4d-%2u-%2u%n", &year, &month, &day, &end) != 3 || end != 10) {
    return std::nullopt;
  }
  const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(month),
                                         std::chrono::day(day)};
  if (!date.ok()) return std::nullopt;
  return std::chrono::sys_days(date);
}

std::string FormatDay(std::chrono::sys_days day) {
  const std::chrono::year_month_day date(day);
  char text[32];
  std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(date.year()),
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
  return text;
}

Result<void> CheckBelongs(const ProfileOrigins& made, const Present& present,
                          const std::string& where) {
  const auto mixed = [&](const std::string& what) {
    return Fail(ErrorCode::kMismatch, where + ": " + what);
  };
  const std::string& face = PersonOf(made.face);
  const std::string& lag = PersonOf(made.lag);
  if (Differ(face, lag)) {
    return mixed("the face is that of \"" + face + "\" and the response time that of \"" + lag +
                 "\"; calibrate both for one person.");
  }
  const std::string& camera = DeviceOf(made.camera);
  const std::string& target = DeviceOf(made.target);
  if (Differ(camera, target)) {
    return mixed("the camera is \"" + camera + "\" and the target was placed by \"" + target +
                 "\"; calibrate both with one camera.");
  }
  const std::string& person = face.empty() ? lag : face;
  if (Differ(person, present.person)) {
    return mixed("this profile is of \"" + person + "\", not of \"" + present.person +
                 "\"; use the profile of the person who is measured.");
  }
  const std::string& device = camera.empty() ? target : camera;
  if (Differ(device, present.device)) {
    return mixed("this profile is of the camera \"" + device + "\", not of \"" + present.device +
                 "\"; use the profile made with this camera.");
  }
  return {};
}

std::vector<std::string> AgeCautions(const ProfileOrigins& made, std::chrono::sys_days today) {
  std::vector<std::string> cautions;
  if (made == ProfileOrigins{}) {
    return {
        "When and for whom this profile was measured is not known; `nearpoint calibrate` measures "
        "it."};
  }
  for (const PartAge& age : AgesOf(made, today)) {
    cautions.push_back(Sentence(age, OriginOf(made, age.part)));
  }
  if (made.face && !made.print) {
    cautions.push_back(
        "Nobody has measured the printed card that the face was measured with, so its lengths are "
        "known to 4 % only; `nearpoint calibrate sheet --check` and then `calibrate face` mend "
        "it.");
  }
  return cautions;
}

}  // namespace nearpoint
