// A session in the store without a camera: trials whose course is computed.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "app/measure/trial.h"
#include "app/records/track_jsonl.h"
#include "app/store/store.h"
#include "app/window/profile_defaults.h"
#include "calibration/profile_json.h"

namespace nearpoint {

// In at 15 mm/s from 340 mm, two at break_mm, back at 25 mm/s, one again at recovery_mm.
inline StoredTrial ComputedTrial(int number, double break_mm, double recovery_mm) {
  StoredTrial stored;
  Trial& trial = stored.trial;
  trial.number = number;
  constexpr double kStart = 340;
  constexpr double kIn = 15;
  constexpr double kBack = 25;
  const double turn_s = (kStart - break_mm) / kIn + 0.6;
  const double nearest = kStart - turn_s * kIn;
  const double back_s = (recovery_mm - nearest) / kBack;
  const double end_s = turn_s + (kStart - nearest) / kBack;
  for (double s = 0; s < end_s; s += 1.0 / 15) {
    DistanceSample sample;
    sample.frame = static_cast<std::int64_t>(s * 15);
    sample.time = FromMilliseconds(s * 1000);
    const double mm = s < turn_s ? kStart - kIn * s : nearest + kBack * (s - turn_s);
    const bool blink = std::fmod(s, 4.3) < 0.2;
    if (!blink) {
      sample.mode = TrackMode::kFace;
      sample.distance = {Length::Millimeters(mm), Length::Millimeters(1)};
      sample.demand = Angle::Radians(2 * std::atan(31 / (mm + 13.5)));
      const double broke_s = (kStart - break_mm) / kIn;
      const bool drifted = s > broke_s && s < turn_s + back_s;
      // The right eye is the one that drifts.
      const auto turned = [&](double outward_deg) {
        EyeSample eye;
        eye.iris_px = {640, 360};
        eye.rotation.emplace();
        eye.rotation->horizontal = *sample.demand / 2 - Angle::Degrees(outward_deg);
        return eye;
      };
      sample.left_eye = turned(0.1 * std::sin(9 * s));
      sample.right_eye = turned((drifted ? 8 : 0) + 0.1 * std::sin(7 * s));
      sample.vergence = *sample.demand - Angle::Degrees((drifted ? 8 : 0) + 0.2 * std::sin(9 * s));
    } else {
      sample.why = LostReason::kEyesClosed;
    }
    stored.track_jsonl += TrackLine(sample) + '\n';
  }
  const auto at = [](double seconds, double mm, double speed) {
    EventDistance event;
    event.time = FromMilliseconds(seconds * 1000);
    event.value = {Length::Millimeters(mm), Length::Millimeters(2)};
    event.uncorrected = Length::Millimeters(mm - 5);
    event.speed = Speed::MillimetersPerSecond(speed);
    return event;
  };
  trial.start = FromMilliseconds(0);
  trial.end = FromMilliseconds(end_s * 1000);
  trial.break_point = at((kStart - break_mm) / kIn + 0.32, break_mm, -kIn);
  trial.recovery = at(turn_s + back_s + 0.32, recovery_mm, kBack);
  trial.objective_break = Length::Millimeters(break_mm + 1);
  trial.approach_speed = Speed::MillimetersPerSecond(kIn);
  trial.start_distance = Length::Millimeters(kStart);
  trial.nearest = Length::Millimeters(nearest);
  trial.valid_fraction = 0.95;
  stored.events = {{trial.start, EventKind::kTrialStart},
                   {trial.break_point->time, EventKind::kDouble},
                   {trial.recovery->time, EventKind::kSingle},
                   {trial.end, EventKind::kTrialEnd}};
  return stored;
}

inline RowId AddSession(Store& store, RowId person, const std::vector<StoredTrial>& trials,
                        bool practice = false) {
  SessionSetup setup;
  setup.person = person;
  setup.practice = practice;
  setup.source = "computed";
  setup.profile_json = SerializeProfile(DefaultProfile());
  setup.norm = "scheiman-2003";
  setup.target = "printed";
  const RowId session = store.BeginSession(setup).value();
  SharedCalibration shared;
  shared.relative_sd = 0.02;
  shared.offset_sd = Length::Millimeters(1.5);
  for (const StoredTrial& trial : trials) {
    if (!store.AddTrial(session, trial, shared, "{}\n")) return 0;
  }
  return session;
}

}  // namespace nearpoint
