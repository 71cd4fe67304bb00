#include "app/clinic/time_line.h"

#include <gmock/gmock.h>

#include "tests/support/clinic_sessions.h"

namespace nearpoint {
namespace {

using testing::DoubleNear;
using testing::SizeIs;

SessionDigest Measured(int day, double mm) {
  SentSession sent;
  const std::string number = day < 10 ? "0" + std::to_string(day) : std::to_string(day);
  sent.started_at = "2026-03-" + number + "T08:00:00+01:00";
  sent.breaks_mm = {mm - 1, mm, mm + 1};
  const std::string text = SessionText(sent);
  return DigestOf(text, AuditLog(HashOf(text)), 0, "session.json").value();
}

TEST(TimeLine, DrawsEachSessionAndTheCourse) {
  const std::vector<SessionDigest> sessions{Measured(2, 95), Measured(9, 88), Measured(16, 81),
                                            Measured(23, 74), Measured(30, 67)};
  const TimeLine line = MakeTimeLine(sessions, 30);
  ASSERT_THAT(line.points, SizeIs(5));
  EXPECT_EQ(line.progress.sessions_counted, 5);
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_TRUE(line.points[i].counted);
    EXPECT_THAT(line.points[i].line_mm.value(), DoubleNear(95 - 7 * static_cast<double>(i), 2));
    EXPECT_LE(line.points[i].line_low_mm.value(), line.points[i].line_mm.value());
    EXPECT_EQ(line.points[i].session, i);
  }
  EXPECT_THAT(line.progress.slope_mm_per_week->value.value(), DoubleNear(-7, 1));
  // Adults: 5 cm from the spectacle plane (Scheiman et al. 2003), 13.5 mm nearer than the cornea.
  EXPECT_THAT(line.cut_off.mm(), DoubleNear(63.5, 1e-9));
}

TEST(TimeLine, AChildHasAnotherLimitAndAMean) {
  const TimeLine line = MakeTimeLine({}, 9);
  EXPECT_THAT(line.points, SizeIs(0));
  ASSERT_NE(line.limit_from, nullptr);
  EXPECT_THAT(line.cut_off.mm(), DoubleNear(73.5, 1e-9));  // 6 cm, Hayes et al. 1998
  ASSERT_TRUE(line.mean && line.mean_from != nullptr);
  EXPECT_NEAR(line.mean->mean.mm(), line.mean_from->break_mean->mean.mm() + 13.5, 1e-9);
}

TEST(TimeLine, LeavesOutWhatIsSimulatedAndKeepsTheRestInPlace) {
  std::vector<SessionDigest> sessions{Measured(2, 70), Measured(3, 200), Measured(9, 72)};
  sessions[1].simulated = true;
  SessionDigest empty = Measured(10, 70);
  empty.point.reset();
  sessions.push_back(empty);
  const TimeLine line = MakeTimeLine(sessions, std::nullopt);
  ASSERT_THAT(line.points, SizeIs(3));
  EXPECT_EQ(line.points[1].session, 2U);
  EXPECT_TRUE(line.points[1].counted);
  EXPECT_FALSE(line.points[2].counted);
  EXPECT_EQ(line.points[2].why_not, "No trial counts.");
  EXPECT_EQ(line.limit_from, nullptr);
}

}  // namespace
}  // namespace nearpoint
