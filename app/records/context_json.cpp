#include "app/records/context_json.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "app/records/json_number.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr NumberRule kAge{0, 120, "years"};
constexpr NumberRule kPhoria{-60, 60, "prism dioptres, exo positive"};
constexpr NumberRule kReserve{0, 80, "prism dioptres"};
constexpr NumberRule kScore{0, 60, "a whole number from 0 to 60"};

constexpr std::array<std::string_view, 9> kNames{
    "schema",          "age_years",        "near_phoria_pd",
    "far_phoria_pd",   "base_out_blur_pd", "base_out_break_pd",
    "base_in_blur_pd", "base_in_break_pd", "symptom_score"};

struct Field {
  const char* name;
  const NumberRule* rule;
  std::optional<double> value;
};

std::optional<double> ValueOf(const std::optional<PrismDiopters>& prism) {
  return prism ? std::optional(prism->value()) : std::nullopt;
}

std::string Short(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%g", value);
  return text;
}

Result<void> CheckOrder(const std::optional<PrismDiopters>& blur,
                        const std::optional<PrismDiopters>& breaks, const char* side,
                        const std::string& where) {
  if (!blur || !breaks || *blur <= *breaks) return {};
  return Fail(ErrorCode::kBadValue, where + ": the base-" + side + " blur point " +
                                        Short(blur->value()) + " lies beyond the break point " +
                                        Short(breaks->value()) +
                                        "; expected blur at or before break.");
}

}  // namespace

Result<void> CheckContext(const ContextValues& context, const std::string& where) {
  const Field fields[] = {
      {"age", &kAge, context.age_years},
      {"near phoria", &kPhoria, ValueOf(context.near_phoria)},
      {"far phoria", &kPhoria, ValueOf(context.far_phoria)},
      {"base-out blur", &kReserve, ValueOf(context.base_out_blur)},
      {"base-out break", &kReserve, ValueOf(context.base_out_break)},
      {"base-in blur", &kReserve, ValueOf(context.base_in_blur)},
      {"base-in break", &kReserve, ValueOf(context.base_in_break)},
      {"symptom score", &kScore, context.symptom_score},
  };
  for (const Field& field : fields) {
    if (!field.value) continue;
    if (*field.value >= field.rule->low && *field.value <= field.rule->high) continue;
    return Fail(ErrorCode::kBadValue, where + ": the " + field.name + " is " + Short(*field.value) +
                                          "; expected " + std::string(field.rule->meaning) +
                                          " from " + Short(field.rule->low) + " to " +
                                          Short(field.rule->high) + ".");
  }
  if (auto order = CheckOrder(context.base_out_blur, context.base_out_break, "out", where); !order)
    return order;
  return CheckOrder(context.base_in_blur, context.base_in_break, "in", where);
}

Result<ContextValues> ParseContext(std::string_view text, const std::string& where) {
  const auto document = ParseJson(text, where);
  if (!document) return tl::unexpected(document.error());
  if (auto schema = CheckSchema(*document, "context", where); !schema) {
    return tl::unexpected(schema.error());
  }
  JsonFields fields(*document, where);
  const auto number = [&](std::string_view name, const NumberRule& rule) -> std::optional<double> {
    return document->contains(name) ? fields.NumberOrNull(name, rule) : std::nullopt;
  };
  const auto prism = [&](std::string_view name, const NumberRule& rule) {
    const auto value = number(name, rule);
    return value ? std::optional(PrismDiopters::Of(*value)) : std::nullopt;
  };
  ContextValues context;
  context.age_years = number("age_years", kAge);
  context.near_phoria = prism("near_phoria_pd", kPhoria);
  context.far_phoria = prism("far_phoria_pd", kPhoria);
  context.base_out_blur = prism("base_out_blur_pd", kReserve);
  context.base_out_break = prism("base_out_break_pd", kReserve);
  context.base_in_blur = prism("base_in_blur_pd", kReserve);
  context.base_in_break = prism("base_in_break_pd", kReserve);
  if (const auto score = number("symptom_score", kScore)) {
    if (*score != std::floor(*score)) {
      fields.Refuse("symptom_score", std::string(kScore.meaning));
    }
    context.symptom_score = static_cast<int>(*score);
  }
  // Every field may be absent, so a name nobody knows would be lost without a word.
  for (const auto& [name, value] : document->items()) {
    if (std::ranges::find(kNames, name) == kNames.end()) {
      fields.Refuse(name, "only the fields of nearpoint/context/1");
    }
  }
  if (!fields.ok()) return tl::unexpected(*fields.error());
  if (auto checked = CheckContext(context, where); !checked) {
    return tl::unexpected(checked.error());
  }
  return context;
}

std::string SerializeContext(const ContextValues& context) {
  const auto number = [](const std::optional<double>& value) {
    return value ? JsonNumber(*value, 4) : OrderedJson();
  };
  OrderedJson json;
  json["schema"] = "nearpoint/context/1";
  json["age_years"] = number(context.age_years);
  json["near_phoria_pd"] = number(ValueOf(context.near_phoria));
  json["far_phoria_pd"] = number(ValueOf(context.far_phoria));
  json["base_out_blur_pd"] = number(ValueOf(context.base_out_blur));
  json["base_out_break_pd"] = number(ValueOf(context.base_out_break));
  json["base_in_blur_pd"] = number(ValueOf(context.base_in_blur));
  json["base_in_break_pd"] = number(ValueOf(context.base_in_break));
  json["symptom_score"] =
      context.symptom_score ? OrderedJson(*context.symptom_score) : OrderedJson();
  return json.dump(2) + "\n";
}

}  // namespace nearpoint
