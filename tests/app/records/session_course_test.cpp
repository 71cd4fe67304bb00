#include "app/records/session_course.h"

#include <gmock/gmock.h>

#include "tests/support/clinic_sessions.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;
using testing::SizeIs;

TEST(SessionCourse, ReadsWhenWhatHappened) {
  SentSession sent;
  sent.eyes_disagree = true;
  sent.comfort = "tired";
  const Session session = MakeSession(sent);
  const auto course = ParseSessionCourse(SessionText(sent), "s.json");
  ASSERT_THAT(course, IsOk());
  EXPECT_EQ(course->comfort, "tired");
  EXPECT_TRUE(course->eyes_disagree);
  EXPECT_NEAR(course->seen.value(), 0.96, 1e-9);
  ASSERT_THAT(course->trials, SizeIs(3));
  for (std::size_t i = 0; i < 3; ++i) {
    const TrialCourse& trial = course->trials[i];
    EXPECT_EQ(trial.number, static_cast<int>(i) + 1);
    // Files carry microseconds.
    EXPECT_NEAR(ToMilliseconds(trial.reported_double.value()),
                ToMilliseconds(session.trials[i].break_point->time), 1e-3);
    EXPECT_NEAR(ToMilliseconds(trial.eyes_left.value()),
                ToMilliseconds(session.eyes[i].objective.break_point->time), 1e-3);
    EXPECT_NEAR(trial.left_at->mm(), sent.breaks_mm[i] + 1, 1e-3);
    EXPECT_EQ(trial.drifting_eye, "right");
    EXPECT_EQ(trial.agreement, ToText(Agreement::kDriftWithoutReport));
    EXPECT_FALSE(trial.eyes_back);
  }
}

TEST(SessionCourse, WhatIsNotThereOrOfAnotherTypeIsAbsent) {
  const auto course = ParseSessionCourse(
      R"({"schema": "nearpoint/session/1", "comfort": 3, "agreement": [], "frames": null,
          "trials": [{"number": -4, "start_t_ms": "x", "valid_fraction": 7,
                      "break_t_ms": 1e300, "notes": [1, "said"]}, 5]})",
      "s.json");
  ASSERT_THAT(course, IsOk());
  EXPECT_EQ(course->comfort, "");
  EXPECT_FALSE(course->eyes_disagree || course->seen);
  ASSERT_THAT(course->trials, SizeIs(2));
  EXPECT_EQ(course->trials[0].number, 1);
  EXPECT_FALSE(course->trials[0].start || course->trials[0].reported_double);
  EXPECT_EQ(course->trials[0].seen, 1);
  EXPECT_THAT(course->trials[0].notes, testing::ElementsAre("said"));
}

TEST(SessionCourse, RefusesWhatIsNoSession) {
  EXPECT_THAT(ParseSessionCourse("{}", "s.json"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("s.json")));
  EXPECT_THAT(WithComfort("[]", "fine"), FailsWith(ErrorCode::kBadValue, HasSubstr("object")));
}

}  // namespace
}  // namespace nearpoint
