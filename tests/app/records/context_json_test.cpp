#include "app/records/context_json.h"

#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

json Full() {
  return {{"schema", "nearpoint/context/1"},
          {"age_years", 12.5},
          {"near_phoria_pd", 8},
          {"far_phoria_pd", -1},
          {"base_out_blur_pd", 10},
          {"base_out_break_pd", 12},
          {"base_in_blur_pd", nullptr},
          {"symptom_score", 30}};
}

Result<ContextValues> Parse(const json& document) {
  return ParseContext(document.dump(), "c.json");
}

TEST(ContextJsonTest, ReadsWhatIsThere) {
  const auto context = Parse(Full());
  ASSERT_THAT(context, IsOk());
  EXPECT_EQ(context->age_years, 12.5);
  EXPECT_EQ(context->near_phoria->value(), 8);
  EXPECT_EQ(context->far_phoria->value(), -1);
  EXPECT_EQ(context->base_out_break->value(), 12);
  EXPECT_FALSE(context->base_in_blur);
  EXPECT_FALSE(context->base_in_break);
  EXPECT_EQ(context->symptom_score, 30);
}

TEST(ContextJsonTest, NamesWhatIsWrong) {
  const auto with = [](const char* name, const json& value) {
    json document = Full();
    document[name] = value;
    return Parse(document);
  };
  const auto refuses = [](const char* name) {
    return FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("c.json"), HasSubstr(name)));
  };
  EXPECT_THAT(with("age_years", -1), refuses("age_years"));
  EXPECT_THAT(with("age_years", "twelve"), refuses("age_years"));
  EXPECT_THAT(with("near_phoria_pd", 100), refuses("near_phoria_pd"));
  EXPECT_THAT(with("symptom_score", 61), refuses("symptom_score"));
  EXPECT_THAT(with("symptom_score", 12.5), refuses("symptom_score"));
  EXPECT_THAT(with("base_out_blur_pd", 13), refuses("blur"));
  EXPECT_THAT(with("far_phoria", 3), refuses("far_phoria"));  // a slip would be lost
  EXPECT_THAT(with("schema", "nearpoint/context/2"), refuses("version 1"));
  EXPECT_THAT(ParseContext("{", "c.json"), FailsWith(ErrorCode::kBadValue, HasSubstr("c.json")));
}

TEST(ContextJsonTest, ChecksValuesFromElsewhere) {
  ContextValues context;
  EXPECT_THAT(CheckContext(context, "x"), IsOk());
  context.base_in_break = PrismDiopters::Of(-3);
  EXPECT_THAT(CheckContext(context, "x"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("base-in break is -3")));
}

}  // namespace
}  // namespace nearpoint
