// Sessions as a home sends them, computed: for the clinic's tests, pictures and benchmark.
#pragma once

#include <string>
#include <vector>

#include "app/exchange/package.h"
#include "app/exchange/session_items.h"
#include "app/measure/what_if.h"
#include "app/records/session_course.h"
#include "app/records/session_json.h"

namespace nearpoint {

struct SentSession {
  std::string started_at = "2026-03-02T07:45:00+01:00";
  std::vector<double> breaks_mm{62, 64, 60};
  std::string comfort = "fine";
  bool eyes_disagree = false;
  double seen = 0.96;  // of the frames
  std::vector<int> set_aside;
  std::string source = "camera 0";
};

inline EventDistance At(double mm, double seconds) {
  EventDistance event;
  event.time = FromMilliseconds(seconds * 1000);
  event.value = {Length::Millimeters(mm), Length::Millimeters(2)};
  event.uncorrected = Length::Millimeters(mm - 5);
  event.speed = Speed::MillimetersPerSecond(15);
  return event;
}

inline Session MakeSession(const SentSession& sent) {
  Session session;
  session.started_at = sent.started_at;
  session.software = "nearpoint 0.1.0";
  session.target = "accommodative";
  session.source = sent.source;
  session.frames = 1000;
  session.frames_lost = static_cast<std::int64_t>(1000 * (1 - sent.seen));
  session.shared.relative_sd = 0.01;
  session.shared.offset_sd = Length::Millimeters(1.5);
  session.shared.lag_sd = FromMilliseconds(40);
  constexpr double kStart = 340;
  constexpr double kSpeed = 15;
  for (const double mm : sent.breaks_mm) {
    Trial trial;
    trial.number = static_cast<int>(session.trials.size()) + 1;
    const double turn_s = (kStart - mm) / kSpeed;
    trial.break_point = At(mm, turn_s + 0.32);
    trial.recovery = At(mm + 28, turn_s + 3);
    trial.start = FromMilliseconds(0);
    trial.end = FromMilliseconds((turn_s + 12) * 1000);
    trial.approach_speed = Speed::MillimetersPerSecond(kSpeed);
    trial.start_distance = Length::Millimeters(kStart);
    trial.nearest = Length::Millimeters(mm - 6);
    trial.objective_break = Length::Millimeters(mm + 1);
    trial.valid_fraction = sent.seen;
    for (const int number : sent.set_aside) {
      if (number == trial.number) trial.set_aside = SetAside::kTooFast;
    }
    TrialEyes eyes;
    ObjectiveEvent left;
    left.time = FromMilliseconds(turn_s * 1000);
    left.distance = UncertainLength{Length::Millimeters(mm + 1), Length::Millimeters(3)};
    left.size = Angle::Degrees(7);
    left.size_sd = Angle::Degrees(1);
    eyes.objective.break_point = left;
    eyes.objective.eye = DriftingEye::kRight;
    eyes.objective.eye_probability = 0.97;
    eyes.agreement.trial = trial.number;
    eyes.agreement.agreement =
        sent.eyes_disagree ? Agreement::kDriftWithoutReport : Agreement::kBothBroke;
    session.trials.push_back(trial);
    session.eyes.push_back(eyes);
  }
  std::vector<TrialAgreement> agreements;
  for (const TrialEyes& eyes : session.eyes) agreements.push_back(eyes.agreement);
  session.agreement = CompareSession(agreements);
  session.estimate = EstimateNearPoint(session.trials, session.shared);
  session.set_aside = EffectOfRules(session.trials, session.shared);
  session.cut_off_from = "adults, break (Scheiman et al. 2003)";
  return session;
}

inline std::string SessionText(const SentSession& sent) {
  return WithComfort(SerializeSession(MakeSession(sent)), sent.comfort).value();
}

inline Package PackageOf(const std::vector<SentSession>& sessions, const std::string& from,
                         std::uint8_t id = 1) {
  Package package;
  package.id.fill(id);
  package.made_at = "2026-03-14T09:26:00Z";
  package.from = from;
  for (const SentSession& sent : sessions) {
    const std::string name = "session-" + std::to_string(package.items.size() + 1) + ".json";
    package.items.push_back({ItemKind::kSession, name, SessionText(sent)});
  }
  return package;
}

}  // namespace nearpoint
