#include "app/event/record.h"

#include <gmock/gmock.h>

#include "tests/app/event/event_log.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

TEST(RecordTest, EveryKindReadsBackAsItWas) {
  EventRule rule;
  rule.norm = "citt";
  rule.plane = ReferencePlane::kLateralCanthus;
  rule.refer_from = 0.9;
  ChildMeasured measured;
  measured.break_mm = 81.25;
  measured.low_mm = 70;
  measured.probability_beyond = 0.75;
  measured.cut_off_mm = 73.5;
  measured.trials_made = 3;
  measured.trials_used = 2;
  measured.set_aside = {"no report was made"};
  measured.basis = Basis::kEyes;
  measured.contradicted = true;
  measured.card = true;
  measured.seconds = 93.5;
  measured.follows = {"x", "y"};
  const std::vector<RecordBody> bodies{EventOpened{"Sch\"ool\n", "2026-03-14", rule},
                                       NewChild("A-12", "Zoë", "3b", 7.25),
                                       NewChild("13", "", "", std::nullopt),
                                       ConsentTaken{true, "form"},
                                       MeasuringStarted(),
                                       MeasuringStopped{StopReason::kCaution},
                                       measured,
                                       ChildMeasured(),
                                       Undone{"u"},
                                       Moved{"u", "c"},
                                       Settled{"u", {"v", "w"}},
                                       HandedOver{"Ines"},
                                       MeasuringStarted{false},
                                       TrialMade{"{\"number\": 1}", "{}", true}};
  for (const RecordBody& body : bodies) {
    const std::string text = BodyToText(body);
    const auto back = BodyFromText(KindOf(body), text, "record 1");
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(back->index(), body.index());
    EXPECT_EQ(BodyToText(*back), text);
  }
}

TEST(RecordTest, RefusesWhatIsNoRecord) {
  const auto message = [](std::string_view kind, std::string_view text) {
    const auto body = BodyFromText(kind, text, "record 7");
    return body ? std::string("accepted") : body.error().message;
  };
  EXPECT_THAT(message("guess", "{}"), HasSubstr("\"guess\""));
  EXPECT_THAT(message("undo", "[]"), HasSubstr("record 7"));
  EXPECT_THAT(message("undo", "{"), HasSubstr("record 7"));
  EXPECT_THAT(message("undo", "{}"), HasSubstr("\"of\""));
  EXPECT_THAT(message("stop", R"({"reason": "bored"})"), HasSubstr("reason"));
  EXPECT_THAT(message("consent", R"({"given": "yes", "how": ""})"), HasSubstr("given"));
  // Numbers lead to no other place, and nothing is said in two lines or beyond what can be.
  for (const char* number :
       {"", ".", "..", "../../x", "A/7", "A\\\\7", "A\\n7",
        "1234567890123456789012345678901234567890123456789012345678901234567"}) {
    EXPECT_THAT(message("child", R"({"number": ")" + std::string(number) +
                                     R"(", "name": "", "group": "", "age_years": null,)"
                                     R"( "walk_up": true})"),
                HasSubstr("number"))
        << number;
  }
  EXPECT_THAT(message("child", R"({"number": "7", "name": "a\nb", "group": "",)"
                               R"( "age_years": null, "walk_up": true})"),
              HasSubstr("name"));
  ChildMeasured odd;
  odd.trials_used = 3;
  EXPECT_THAT(message("measured", BodyToText(odd)), HasSubstr("trials_used"));
  EXPECT_THAT(message("event", BodyToText(EventOpened{"a", "someday", EventRule()})),
              HasSubstr("day"));
  // A rule that cannot hold is refused where it is read, not where it is used.
  std::string rule = BodyToText(EventOpened{"a", "2026-01-01", EventRule()});
  rule.replace(rule.find("hayes-1998"), 10, "hayes-2998");
  EXPECT_THAT(message("event", rule), HasSubstr("hayes-2998"));
}

}  // namespace
}  // namespace nearpoint
