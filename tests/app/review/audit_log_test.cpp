#include "app/review/audit_log.h"

#include <gmock/gmock.h>

#include <sstream>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

const std::string kSession = HashOf("the session");

AuditEntry SetAsideEntry(int trial, const std::string& why) {
  return {"2026-03-02T09:00:00Z", "Dr. Ade", ReviewAct::kSetAside, trial, why};
}
AuditEntry Accept() { return {"2026-03-02T09:05:00Z", "Dr. Ade", ReviewAct::kAccept, {}, ""}; }

AuditLog Example() {
  AuditLog log(kSession);
  EXPECT_THAT(log.Add(SetAsideEntry(2, "the child laughed")), IsOk());
  EXPECT_THAT(log.Add({"2026-03-02T09:01:00Z", "Dr. Ade", ReviewAct::kNote, {}, "tired, 日本"}),
              IsOk());
  EXPECT_THAT(log.Add(Accept()), IsOk());
  return log;
}

std::vector<std::string> Lines(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line + "\n");
  return lines;
}

Result<AuditLog> Parse(const std::string& text) {
  return AuditLog::Parse(text, kSession, "r.jsonl");
}

TEST(AuditLogTest, HashOfAKnownText) {
  // BLAKE2b-256 of "abc", as b2sum -l 256 prints it (computed).
  EXPECT_EQ(HashOf("abc"), "bddd813c634239723171ef3fee98579b94964e3bb1cb3e427262c8c068d52319");
}

TEST(AuditLogTest, GoesThroughItsText) {
  const AuditLog log = Example();
  const auto read = Parse(log.text());
  ASSERT_THAT(read, IsOk());
  ASSERT_EQ(read->entries().size(), 3u);
  EXPECT_EQ(read->entries()[0].trial, 2);
  EXPECT_EQ(read->entries()[1].words, "tired, 日本");
  EXPECT_EQ(read->entries()[2].act, ReviewAct::kAccept);
  EXPECT_EQ(read->head(), log.head());
  EXPECT_EQ(read->text(), log.text());
  EXPECT_TRUE(Parse("")->entries().empty());
  EXPECT_EQ(Parse("")->head(), kSession);
}

TEST(AuditLogTest, EveryByteChangedIsSeen) {
  const std::string text = Example().text();
  for (std::size_t i = 0; i < text.size(); ++i) {
    for (const char flip : {1, 2, 0x20}) {
      std::string changed = text;
      changed[i] = static_cast<char>(changed[i] ^ flip);
      const auto read = Parse(changed);
      EXPECT_FALSE(read) << "byte " << i;
    }
  }
}

TEST(AuditLogTest, LinesTakenOutPutInOrMovedAreSeen) {
  const auto lines = Lines(Example().text());
  const auto refused = [](const std::string& text) {
    EXPECT_THAT(Parse(text),
                FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("r.jsonl"), HasSubstr("chain"))));
  };
  refused(lines[1] + lines[2]);
  refused(lines[0] + lines[2]);
  refused(lines[0] + lines[0] + lines[1] + lines[2]);
  refused(lines[1] + lines[0] + lines[2]);
  // An entry from elsewhere, whole in itself.
  AuditLog other(kSession);
  ASSERT_THAT(other.Add(SetAsideEntry(3, "another log")), IsOk());
  ASSERT_THAT(other.Add(Accept()), IsOk());
  refused(lines[0] + Lines(other.text())[1]);
  // Cut off in the middle of a line.
  const std::string text = Example().text();
  EXPECT_THAT(Parse(text.substr(0, text.size() - 1)),
              FailsWith(ErrorCode::kBadValue, HasSubstr("cut off")));
}

TEST(AuditLogTest, AShorterLogHasAnotherHead) {
  // The chain alone cannot show this; the head that was kept elsewhere does.
  const AuditLog log = Example();
  const auto lines = Lines(log.text());
  const auto shorter = Parse(lines[0] + lines[1]);
  ASSERT_THAT(shorter, IsOk());
  EXPECT_NE(shorter->head(), log.head());
}

TEST(AuditLogTest, BelongsToOneSession) {
  EXPECT_THAT(AuditLog::Parse(Example().text(), HashOf("another session"), "r.jsonl"),
              FailsWith(ErrorCode::kMismatch, HasSubstr("another session")));
}

TEST(AuditLogTest, RefusesEntriesThatExplainNothing) {
  AuditLog log(kSession);
  const auto refuses = [&log](const AuditEntry& entry, const char* words) {
    EXPECT_THAT(log.Add(entry), FailsWith(ErrorCode::kBadValue, HasSubstr(words)));
  };
  AuditEntry entry = SetAsideEntry(2, "");
  refuses(entry, "reason");
  entry = SetAsideEntry(2, "x");
  entry.by = "";
  refuses(entry, "named");
  entry = SetAsideEntry(2, "x");
  entry.trial.reset();
  refuses(entry, "one trial");
  entry = Accept();
  entry.trial = 1;
  refuses(entry, "one trial");
  entry = SetAsideEntry(2, "\xff\xfe");
  refuses(entry, "UTF-8");
  entry = SetAsideEntry(2, "x");
  entry.at = "2026-03-02";
  refuses(entry, "moment");
  EXPECT_THAT(log.Add(Accept()), IsOk());
  refuses(SetAsideEntry(2, "x"), "before the last entry");
  EXPECT_EQ(log.entries().size(), 1u);
}

}  // namespace
}  // namespace nearpoint
