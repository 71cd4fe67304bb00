#include "app/clinic/session_digest.h"

#include <gmock/gmock.h>

#include "tests/support/clinic_sessions.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::DoubleNear;
using testing::HasSubstr;

SessionDigest Digest(const SentSession& sent, const std::vector<AuditEntry>& entries = {}) {
  const std::string text = SessionText(sent);
  AuditLog log(HashOf(text));
  for (const AuditEntry& entry : entries) EXPECT_THAT(log.Add(entry), IsOk());
  return DigestOf(text, log, 20000.5, "session.json").value();
}

AuditEntry Entry(ReviewAct act, std::optional<int> trial = std::nullopt) {
  return {"2026-03-15T08:00:00Z", "A. Optometrist", act, trial,
          act == ReviewAct::kAccept ? "" : "looked at the trace"};
}

TEST(SessionDigest, SaysWhatTheFileSays) {
  const SentSession sent;
  const Session session = MakeSession(sent);
  const SessionDigest digest = Digest(sent);
  EXPECT_EQ(digest.started_at, sent.started_at);
  // 2026-03-02 is day 20514 (date -d 2026-03-02 +%s, divided by 86400); 7:45 local.
  EXPECT_THAT(digest.day, DoubleNear(20514 + 7.75 / 24, 1e-9));
  EXPECT_EQ(digest.hour, 7.75);
  ASSERT_TRUE(digest.break_mm && digest.break_mm->value);
  EXPECT_THAT(*digest.break_mm->value, DoubleNear(*session.estimate.break_mm->value, 1e-3));
  EXPECT_THAT(digest.cut_off.mm(), DoubleNear(63.5, 1e-9));
  EXPECT_EQ(digest.answer, session.estimate.answer);
  EXPECT_EQ(digest.trials, 3);
  EXPECT_EQ(digest.used, 3);
  EXPECT_THAT(digest.seen.value(), DoubleNear(0.96, 1e-9));
  EXPECT_EQ(digest.comfort, "fine");
  EXPECT_FALSE(digest.eyes_disagree || digest.simulated || digest.accepted || digest.changed);
}

TEST(SessionDigest, IsOfTheSessionAsReviewed) {
  SentSession sent;
  sent.breaks_mm = {62, 64, 60, 140};
  const SessionDigest before = Digest(sent);
  const SessionDigest after = Digest(sent, {Entry(ReviewAct::kSetAside, 4)});
  EXPECT_TRUE(after.changed);
  EXPECT_EQ(after.used, 3);
  EXPECT_LT(*after.break_mm->value, *before.break_mm->value - 10);
  // The same as if the fourth trial had never been: an estimate takes only what counts.
  sent.breaks_mm = {62, 64, 60};
  EXPECT_THAT(*after.break_mm->value, DoubleNear(*Digest(sent).break_mm->value, 1e-3));
  EXPECT_TRUE(Digest(sent, {Entry(ReviewAct::kAccept)}).accepted);
  EXPECT_FALSE(Digest(sent, {Entry(ReviewAct::kAccept), Entry(ReviewAct::kSetAside, 1)}).accepted);
}

TEST(SessionDigest, GoesRoundUnchanged) {
  SentSession nothing_counts;
  nothing_counts.set_aside = {1, 2, 3};
  for (const SentSession& sent : {SentSession(), nothing_counts}) {
    const SessionDigest digest = Digest(sent);
    const std::string text = SerializeDigest(digest);
    const auto again = ParseDigest(text, "again");
    ASSERT_THAT(again, IsOk());
    EXPECT_EQ(SerializeDigest(*again), text);
    EXPECT_EQ(again->point.has_value(), digest.point.has_value());
    if (digest.point) {
      EXPECT_THAT(again->point->value_mm, DoubleNear(digest.point->value_mm, 1e-5));
    }
  }
}

TEST(SessionDigest, WithoutAMomentTheDayOfArrivalStandsIn) {
  std::string text = SessionText({});
  const auto at = text.find("\"2026-03-02T07:45:00+01:00\"");
  text.replace(at, 27, "null");
  const auto digest = DigestOf(text, AuditLog(HashOf(text)), 20000.5, "session.json");
  ASSERT_THAT(digest, IsOk());
  EXPECT_EQ(digest->day, 20000.5);
  EXPECT_EQ(digest->started_at, "");
}

TEST(SessionDigest, ATooThinSessionIsOfPoorQuality) {
  SentSession sent;
  EXPECT_FALSE(PoorQuality(Digest(sent)));
  sent.seen = 0.79;
  EXPECT_TRUE(PoorQuality(Digest(sent)));
  sent.seen = 0.96;
  sent.breaks_mm = {62, 64};
  EXPECT_TRUE(PoorQuality(Digest(sent)));
  sent.breaks_mm = {62, 64, 60, 61, 59, 66, 70};
  sent.set_aside = {1, 2, 3, 4};
  EXPECT_TRUE(PoorQuality(Digest(sent)));
}

TEST(SessionDigest, RefusesWhatIsNoDigest) {
  EXPECT_THAT(ParseDigest("{}", "d"), FailsWith(ErrorCode::kNotFound, HasSubstr("schema")));
  EXPECT_FALSE(ParseDigest(R"({"schema": "nearpoint/digest/2"})", "d"));
  EXPECT_THAT(DigestOf("{}", AuditLog(HashOf("{}")), 0, "s.json"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("s.json")));
}

}  // namespace
}  // namespace nearpoint
