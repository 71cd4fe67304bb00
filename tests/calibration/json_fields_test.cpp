#include "calibration/json_fields.h"

#include <gmock/gmock.h>

#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

TEST(OneSlipApartTest, KnowsTheSlipsOfAKeyboard) {
  EXPECT_TRUE(OneSlipApart("iris_mm", "iris_m"));    // left out
  EXPECT_TRUE(OneSlipApart("iris_mm", "iiris_mm"));  // added
  EXPECT_TRUE(OneSlipApart("iris_mm", "iris-mm"));   // changed
  EXPECT_TRUE(OneSlipApart("iris_mm", "irsi_mm"));   // swapped
  EXPECT_TRUE(OneSlipApart("fx", "xf"));
  EXPECT_FALSE(OneSlipApart("iris_mm", "iris_mm"));
  EXPECT_FALSE(OneSlipApart("iris_mm", "iris"));
  EXPECT_FALSE(OneSlipApart("iris_mm", "iirs_m"));
  EXPECT_FALSE(OneSlipApart("", "ab"));
  EXPECT_TRUE(OneSlipApart("", "a"));
}

TEST(OneSlipApartTest, DoesNotCareAboutTheOrder) {
  const std::vector<std::string> names{"", "a", "ab", "ba", "abc", "acb", "bac", "abcd", "xabc"};
  for (const auto& a : names) {
    for (const auto& b : names) EXPECT_EQ(OneSlipApart(a, b), OneSlipApart(b, a)) << a << ' ' << b;
  }
}

TEST(ParseJsonTest, NamesFileAndLine) {
  EXPECT_THAT(ParseJson("{\"a\": 1}", "a.json"), IsOk());
  EXPECT_THAT(ParseJson("{\n\"a\": ,\n}", "a.json"),
              FailsWith(ErrorCode::kBadValue, AllOf(HasSubstr("a.json"), HasSubstr("line 2"))));
  for (const char* text :
       {"", "{", "{\"a\": NaN}", "{\"a\": Infinity}", "{\"a\": 1e999}", "nonsense"}) {
    EXPECT_THAT(ParseJson(text, "a.json"), FailsWith(ErrorCode::kBadValue, HasSubstr("a.json")))
        << text;
  }
}

TEST(ParseJsonTest, NamesTheFieldThatItBreaksOffIn) {
  const auto expect = [](const char* text, const char* field) {
    EXPECT_THAT(ParseJson(text, "a.json"), FailsWith(ErrorCode::kBadValue, HasSubstr(field)))
        << text;
  };
  expect(R"({"a": 1e999})", "\"a\" is too large");
  expect(R"({"a": {"b": 1, "c": 2}, "d": {"e": 1e999, "f": 0}})", "\"d.e\" is too large");
  expect(R"({"a": {"b": [0, -1e999]}})", "\"a.b\" is too large");
  expect(R"({"a": {"b": {"c": 1}, "d": NaN}})", "\"a.d\"");
  expect(R"({"a": {"b": 1}, "c": Infinity})", "\"c\"");
}

TEST(CheckSchemaTest, TellsAnotherKindFromANewerVersion) {
  const auto check = [](const char* text) {
    return CheckSchema(nlohmann::json::parse(text), "profile", "p.json");
  };
  EXPECT_THAT(check("{\"schema\": \"nearpoint/profile/1\"}"), IsOk());
  EXPECT_THAT(check("{\"schema\": \"nearpoint/profile/2\"}"),
              FailsWith(ErrorCode::kBadValue,
                        AllOf(HasSubstr("nearpoint/profile/2"), HasSubstr("version 1"))));
  EXPECT_THAT(check("{\"schema\": \"nearpoint/session/1\"}"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("expected \"nearpoint/profile/1\"")));
  EXPECT_THAT(check("{}"), FailsWith(ErrorCode::kNotFound, HasSubstr("\"schema\" is missing")));
  EXPECT_THAT(check("{\"schema\": 1}"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("\"schema\" is 1")));
  EXPECT_THAT(check("[]"), FailsWith(ErrorCode::kBadValue, HasSubstr("object")));
}

TEST(JsonFieldsTest, KeepsTheFirstComplaintOnly) {
  const auto json = nlohmann::json::parse(R"({"a": "x", "b": -1})");
  JsonFields fields(json, "f.json", "part.");
  fields.Number("a", {0, 10, "a count"});
  fields.Number("b", {0, 10, "a count"});
  fields.Number("c", {0, 10, "a count"});
  ASSERT_TRUE(fields.error());
  EXPECT_EQ(fields.error()->message, "f.json: \"part.a\" is \"x\"; expected a count from 0 to 10.");
}

TEST(JsonFieldsTest, ShortensWhatItQuotes) {
  const nlohmann::json json{{"a", std::string(1000, 'x')}};
  JsonFields fields(json, "f.json");
  fields.Number("a", {});
  EXPECT_LT(fields.error()->message.size(), 120u);
}

TEST(JsonFieldsTest, ReadsNumbersAtTheEndsOfTheirRange) {
  const auto json = nlohmann::json::parse(R"({"low": 0, "high": 10, "n": 3.5, "none": null})");
  JsonFields fields(json, "f.json");
  EXPECT_EQ(fields.Number("low", {0, 10, "a count"}), 0);
  EXPECT_EQ(fields.Number("high", {0, 10, "a count"}), 10);
  EXPECT_EQ(fields.NumberOrNull("none", {0, 10, "a count"}), std::nullopt);
  EXPECT_TRUE(fields.ok());
  fields.Integer("n", 0, 10, "a whole count");
  EXPECT_THAT(fields.error()->message, AllOf(HasSubstr("\"n\" is 3.5"), HasSubstr("whole")));
}

TEST(JsonFieldsTest, RefusesSlipsAndAllowsExtensions) {
  const auto json = nlohmann::json::parse(R"({"width": 4, "colour": "red"})");
  JsonFields fields(json, "f.json");
  fields.Number("width", {});
  fields.RefuseMisspelt();
  EXPECT_TRUE(fields.ok());
  const auto slip = nlohmann::json::parse(R"({"width": 4, "widht": 5})");
  JsonFields second(slip, "f.json");
  second.Number("width", {});
  second.RefuseMisspelt();
  ASSERT_FALSE(second.ok());
  EXPECT_THAT(second.error()->message, AllOf(HasSubstr("\"widht\""), HasSubstr("\"width\"")));
}

}  // namespace
}  // namespace nearpoint
