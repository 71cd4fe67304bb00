#include "app/records/events_jsonl.h"

#include <gmock/gmock.h>

#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

TEST(EventsTest, ReadsEveryWord) {
  const auto events = ParseEvents(
      "{\"t_ms\": 0, \"event\": \"trial_start\"}\n\n{\"t_ms\": 8123.5, \"event\": \"double\"}\r\n"
      "{\"t_ms\": 8123.5, \"event\": \"single\", \"note\": 1}\n{\"event\": \"no_double\", "
      "\"t_ms\": 9000}\n"
      "{\"t_ms\": 9500, \"event\": \"trial_end\"}",
      "e.jsonl");
  ASSERT_THAT(events, IsOk());
  ASSERT_EQ(events->size(), 5u);
  EXPECT_EQ((*events)[0].kind, EventKind::kTrialStart);
  EXPECT_EQ((*events)[1].kind, EventKind::kDouble);
  EXPECT_EQ((*events)[1].time, FromMilliseconds(8123.5));
  EXPECT_EQ((*events)[2].kind, EventKind::kSingle);
  EXPECT_EQ((*events)[3].kind, EventKind::kNoDouble);
  EXPECT_EQ((*events)[4].kind, EventKind::kTrialEnd);
}

TEST(EventsTest, ComesBackAsItWent) {
  const Event event{FromMilliseconds(8123.25), EventKind::kNoDouble};
  const auto events = ParseEvents(EventLine(event), "e.jsonl");
  ASSERT_THAT(events, IsOk());
  EXPECT_EQ(events->front().time, event.time);
  EXPECT_EQ(events->front().kind, event.kind);
}

struct BadLine {
  ErrorCode code;
  const char* line;
  const char* words;
};
class BadEventTest : public testing::TestWithParam<BadLine> {};

TEST_P(BadEventTest, NamesFileLineAndField) {
  const std::string text =
      std::string("{\"t_ms\": 10, \"event\": \"trial_start\"}\n") + GetParam().line + "\n";
  EXPECT_THAT(
      ParseEvents(text, "e.jsonl"),
      FailsWith(GetParam().code, AllOf(HasSubstr("e.jsonl, line 2"), HasSubstr(GetParam().words))));
}

INSTANTIATE_TEST_SUITE_P(
    Lines, BadEventTest,
    testing::Values(
        BadLine{ErrorCode::kBadValue, "{\"t_ms\": 11", "JSON"},
        BadLine{ErrorCode::kBadValue, "[11, \"double\"]", "object"},
        BadLine{ErrorCode::kNotFound, "{\"event\": \"double\"}", "t_ms"},
        BadLine{ErrorCode::kNotFound, "{\"t_ms\": 11}", "event"},
        BadLine{ErrorCode::kBadValue, "{\"t_ms\": 11, \"evnt\": \"double\"}", "evnt"},
        BadLine{ErrorCode::kBadValue, "{\"t_ms\": 11, \"event\": \"twice\"}", "no_double"},
        BadLine{ErrorCode::kBadValue, "{\"t_ms\": 11, \"event\": 2}", "event"},
        BadLine{ErrorCode::kBadValue, "{\"t_ms\": null, \"event\": \"double\"}", "t_ms"},
        BadLine{ErrorCode::kBadValue, "{\"t_ms\": \"11\", \"event\": \"double\"}", "t_ms"},
        BadLine{ErrorCode::kBadValue, "{\"t_ms\": NaN, \"event\": \"double\"}", "JSON"},
        BadLine{ErrorCode::kBadValue, "{\"t_ms\": 1e200, \"event\": \"double\"}", "t_ms"},
        BadLine{ErrorCode::kBadValue, "{\"t_ms\": 9, \"event\": \"double\"}", "earlier"}));

TEST(EventsTest, RefusesAFileWithoutEvents) {
  EXPECT_THAT(ParseEvents("", "e.jsonl"), FailsWith(ErrorCode::kBadValue, HasSubstr("no event")));
  EXPECT_THAT(ParseEvents("\n \n", "e.jsonl"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("no event")));
  const TempFolder folder;
  EXPECT_THAT(ReadEvents(folder / "none.jsonl"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("none.jsonl")));
}

}  // namespace
}  // namespace nearpoint
