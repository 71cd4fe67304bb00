#include "app/session/make_session.h"

#include <gmock/gmock.h>

#include <cstddef>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "app/records/session_json.h"
#include "tests/support/result_matchers.h"
#include "tests/support/vergence_patient.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using ::testing::Contains;
using testing::Gaze;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using testing::SimulateVergence;
using testing::VergencePatient;
using testing::VergenceTrial;

constexpr int kTrials = 3;
constexpr double kPressMs = 400;  // after what is reported

struct Recording {
  std::vector<DistanceSample> samples;
  std::vector<Event> events;
};

using Reports = std::function<std::vector<Event>(const VergenceTrial&)>;

// One trial after the other, two seconds apart.
Recording Record(const VergencePatient& patient, const Reports& reports) {
  Recording recording;
  for (std::uint64_t seed = 1; seed <= kTrials; ++seed) {
    const VergenceTrial trial = SimulateVergence(patient, seed);
    const Time shift =
        recording.samples.empty() ? Time{} : recording.samples.back().time + FromMilliseconds(2000);
    recording.events.push_back({trial.samples.front().time + shift, EventKind::kTrialStart});
    for (const Event& event : reports(trial)) {
      recording.events.push_back({event.time + shift, event.kind});
    }
    recording.events.push_back({trial.samples.back().time + shift, EventKind::kTrialEnd});
    for (DistanceSample sample : trial.samples) {
      sample.time += shift;
      sample.frame = static_cast<std::int64_t>(recording.samples.size());
      recording.samples.push_back(sample);
    }
  }
  return recording;
}

// The first moment nearer than near_mm, and the first after it that is farther than far_mm again.
std::vector<Event> PressesByDistance(const VergenceTrial& trial, double near_mm, double far_mm) {
  std::vector<Event> events;
  for (const DistanceSample& sample : trial.samples) {
    if (!sample.distance) continue;
    const double mm = sample.distance->value.mm();
    if (events.empty() && mm < near_mm) events.push_back({sample.time, EventKind::kDouble});
    if (events.size() == 1 && mm > far_mm) events.push_back({sample.time, EventKind::kSingle});
  }
  return events;
}

std::vector<Event> HonestPresses(const VergenceTrial& trial) {
  return {{*trial.truth.break_time + FromMilliseconds(kPressMs), EventKind::kDouble},
          {*trial.truth.recovery_time + FromMilliseconds(kPressMs), EventKind::kSingle}};
}

std::vector<Event> StillOne(const VergenceTrial& trial) {
  return {{*trial.truth.break_time + FromMilliseconds(1000), EventKind::kNoDouble}};
}

VergencePatient Drifting() {
  VergencePatient patient;
  patient.break_mm = 90;
  return patient;
}

json SessionOf(const Recording& recording) {
  Profile profile;
  profile.lag = FromMilliseconds(kPressMs);
  profile.lag_sd = FromMilliseconds(60);
  const auto session = MakeSession(recording.samples, recording.events, profile, {}, {});
  EXPECT_THAT(session, IsOk());
  return session ? json::parse(SerializeSession(*session)) : json();
}

TEST(MakeSession, FindsTheBreakInTheEyesBesideTheReport) {
  const json session = SessionOf(Record(Drifting(), HonestPresses));
  ASSERT_EQ(session["trials"].size(), kTrials);
  for (const json& trial : session["trials"]) {
    EXPECT_EQ(trial["agreement"], "agree");
    EXPECT_TRUE(trial["set_aside"].is_null()) << trial["set_aside"];
    EXPECT_EQ(trial["drifting_eye"], "left");
    EXPECT_NEAR(trial["objective_break_mm"].get<double>(), 90, 3);
    EXPECT_NEAR(trial["objective_recovery_mm"].get<double>(), 110, 5);
    EXPECT_NEAR(trial["drift_deg"].get<double>(), 8, 1);
    EXPECT_NEAR(trial["report_minus_drift_ms"].get<double>(), kPressMs, 150);
    EXPECT_NEAR(trial["report_minus_drift_ms"].get<double>(),
                trial["break_t_ms"].get<double>() - trial["objective_break_t_ms"].get<double>(),
                0.002);
    EXPECT_GT(trial["drift_probability"].get<double>(), 0.99);
    EXPECT_NEAR(trial["vergence_gain"].get<double>(), 1.05,
                4 * trial["vergence_gain_sd"].get<double>());
    EXPECT_NEAR(trial["vergence_offset_deg"].get<double>(), 3,
                4 * trial["vergence_offset_sd_deg"].get<double>());
    EXPECT_TRUE(trial["vergence_why_not"].is_null());
  }
  EXPECT_EQ(session["agreement"]["flagged"], false);
  EXPECT_NEAR(session["agreement"]["median_report_minus_drift_ms"].get<double>(), kPressMs, 100);
  EXPECT_THAT(session["agreement"]["sentences"].get<std::vector<std::string>>(),
              Contains(HasSubstr("agree in 3 of 3 trials")));
}

TEST(MakeSession, FlagsAnEyeThatDriftsWithoutAReport) {
  const json session = SessionOf(Record(Drifting(), StillOne));
  ASSERT_EQ(session["trials"].size(), kTrials);
  for (const json& trial : session["trials"]) {
    EXPECT_EQ(trial["agreement"], "drift without report");
    EXPECT_EQ(trial["censored"], "below");
    EXPECT_NEAR(trial["objective_break_mm"].get<double>(), 90, 3);
    EXPECT_TRUE(trial["report_minus_drift_ms"].is_null());
    EXPECT_THAT(trial["notes"].get<std::vector<std::string>>(),
                Contains(HasSubstr("no doubling was reported")));
  }
  EXPECT_EQ(session["agreement"]["flagged"], true);
  EXPECT_THAT(session["agreement"]["sentences"].get<std::vector<std::string>>(),
              Contains(HasSubstr("was suppressed, the camera cannot tell")));
}

TEST(MakeSession, FlagsReportsWithoutADrift) {
  const json session = SessionOf(Record(VergencePatient{}, [](const VergenceTrial& trial) {
    return PressesByDistance(trial, 100, 130);
  }));
  ASSERT_EQ(session["trials"].size(), kTrials);
  for (const json& trial : session["trials"]) {
    EXPECT_EQ(trial["agreement"], "report without drift");
    EXPECT_TRUE(trial["break_mm"].is_number());
    for (const char* name : {"objective_break_mm", "objective_break_sd_mm", "objective_break_t_ms",
                             "objective_recovery_mm", "objective_recovery_t_ms", "drifting_eye",
                             "drift_deg", "report_minus_drift_ms"}) {
      EXPECT_TRUE(trial.contains(name) && trial[name].is_null()) << name;
    }
  }
  EXPECT_EQ(session["agreement"]["flagged"], true);
  EXPECT_THAT(session["agreement"]["sentences"].get<std::vector<std::string>>(),
              Contains(HasSubstr("no eye turned outward")));
}

// The presses of someone who looks elsewhere would make a near point; it must not.
TEST(MakeSession, SetsAsideATrialInWhichThePatientDidNotLook) {
  VergencePatient patient;
  const auto presses = [](const VergenceTrial& trial) {
    return PressesByDistance(trial, 100, 130);
  };
  EXPECT_TRUE(SessionOf(Record(patient, presses))["estimate"]["break_mm"].is_object());
  for (const auto& [gaze, reason] : {std::pair(Gaze::kElsewhere, SetAside::kNotLooking),
                                     std::pair(Gaze::kLeftCovered, SetAside::kOneEyeCovered)}) {
    patient.gaze = gaze;
    const json session = SessionOf(Record(patient, presses));
    ASSERT_EQ(session["trials"].size(), kTrials);
    for (const json& trial : session["trials"]) {
      EXPECT_EQ(trial["set_aside"], ToText(reason));
      EXPECT_EQ(trial["agreement"], "cannot tell");
      EXPECT_TRUE(trial["drift_probability"].is_null());
      EXPECT_TRUE(trial["vergence_gain"].is_null());
      EXPECT_THAT(trial["vergence_why_not"].get<std::string>(), Not(IsEmpty()));
    }
    EXPECT_TRUE(session["estimate"]["break_mm"].is_null());
    EXPECT_EQ(session["agreement"]["flagged"], false);
  }
}

// What the eyes say is of the trial's own frames: those before and after it change nothing.
TEST(MakeSession, KeepsToTheFramesOfTheTrial) {
  const Recording whole = Record(Drifting(), HonestPresses);
  const json all = SessionOf(whole);
  for (std::ptrdiff_t i = 0; i < kTrials; ++i) {
    Recording alone = whole;
    const auto first = whole.events.begin() + 4 * i;
    alone.events.assign(first, first + 4);
    const Time from = alone.events.front().time;
    const Time to = alone.events.back().time;
    std::erase_if(alone.samples, [&](const DistanceSample& sample) {
      return sample.time < from || sample.time > to;
    });
    const json one = SessionOf(alone);
    ASSERT_EQ(one["trials"].size(), 1u);
    for (const char* name : {"objective_break_mm", "objective_break_t_ms", "drift_deg"}) {
      EXPECT_EQ(one["trials"][0][name], all["trials"][static_cast<std::size_t>(i)][name]) << name;
    }
  }
}

TEST(MakeSession, ASessionFileGivesTheSameTrialsBack) {
  const Recording recording = Record(Drifting(), HonestPresses);
  const json session = SessionOf(recording);
  const auto read = ParseSessionTrials(session.dump(), "s.json");
  ASSERT_THAT(read, IsOk());
  ASSERT_EQ(read->trials.size(), kTrials);
  for (std::size_t i = 0; i < kTrials; ++i) {
    EXPECT_EQ(read->trials[i].break_point->value.value.mm(), session["trials"][i]["break_mm"]);
  }
}

TEST(MakeSession, RefusesEventsOfAnotherRecording) {
  Recording recording = Record(Drifting(), HonestPresses);
  recording.samples.clear();
  EXPECT_THAT(MakeSession(recording.samples, recording.events, Profile{}, {}, {}),
              FailsWith(ErrorCode::kInsufficient, HasSubstr("no frames")));
}

}  // namespace
}  // namespace nearpoint
