#include "app/exchange/plan_package.h"

#include <gmock/gmock.h>

#include "app/exchange/session_items.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

TEST(PlanPackage, CarriesThePlanAndForWhomItIs) {
  const Package package = MakePlanPackage({"Mira", "{}"}, "Lindenhof");
  EXPECT_THAT(CheckPackage(package), IsOk());
  EXPECT_EQ(package.from, "Lindenhof");
  const auto plan = PlanOf(package);
  ASSERT_THAT(plan, IsOk());
  EXPECT_EQ(plan->for_whom, "Mira");
  EXPECT_EQ(plan->text, "{}");
}

TEST(PlanPackage, RefusesWhatIsNoPlan) {
  Package package = MakePlanPackage({"Mira", "{}"}, "Lindenhof");
  package.items.push_back({ItemKind::kPlan, "second.json", "{}"});
  EXPECT_THAT(PlanOf(package), FailsWith(ErrorCode::kBadValue, HasSubstr("exactly one")));
  package = MakePlanPackage({"Mira", "{}"}, "Lindenhof");
  package.items.erase(package.items.begin() + 1);
  EXPECT_THAT(PlanOf(package), FailsWith(ErrorCode::kBadValue, HasSubstr("for whom")));
  EXPECT_FALSE(PlanOf({}));
}

TEST(SessionItems, ATrackFindsItsSession) {
  const std::string name = TrackName("session-20260314-0926.json", 2);
  EXPECT_EQ(name, "session-20260314-0926.trial-2.jsonl");
  const auto parsed = ParseTrackName(name);
  ASSERT_TRUE(parsed);
  EXPECT_EQ(parsed->first, StemOf("session-20260314-0926.json"));
  EXPECT_EQ(parsed->second, 2);
  for (const char* bad : {"", ".trial-1.jsonl", "a.trial-0.jsonl", "a.trial-1", "a.trial-x.jsonl",
                          "a.trial-1x.jsonl", "a.trial-99999999999.jsonl", "a.jsonl"}) {
    EXPECT_FALSE(ParseTrackName(bad)) << bad;
  }
}

}  // namespace
}  // namespace nearpoint
