#include "app/measure/criteria.h"

#include <gtest/gtest.h>

namespace nearpoint {
namespace {

PrismDiopters Pd(double value) { return PrismDiopters::Of(value); }

Estimate Break(double low, double high) {
  Estimate e;
  e.break_mm = Band{.value = (low + high) / 2, .low = low, .high = high, .level = 0.95};
  return e;
}

// Values of a person with all four signs.
ContextValues Signs() {
  ContextValues c;
  c.age_years = 12;
  c.near_phoria = Pd(8);
  c.far_phoria = Pd(1);
  c.base_out_break = Pd(12);
  c.symptom_score = 30;
  return c;
}

Status StatusOf(const std::vector<Criterion>& criteria, std::string_view start) {
  for (const Criterion& c : criteria) {
    if (c.name.starts_with(start)) return c.status;
  }
  ADD_FAILURE() << "no criterion " << start;
  return Status::kNotEnoughData;
}

TEST(Sheard, TenExophoriaNeedsTwentyOfReserve) {
  ContextValues c;
  c.near_phoria = Pd(10);
  c.base_out_blur = Pd(20);
  EXPECT_EQ(SheardStatus(c), Status::kMet);
  EXPECT_NEAR(SheardPrism(c)->value(), 0, 1e-12);
  c.base_out_blur = Pd(19);
  EXPECT_EQ(SheardStatus(c), Status::kNotMet);
  EXPECT_NEAR(SheardPrism(c)->value(), 1.0 / 3, 1e-12);
}

TEST(Sheard, EsophoriaIsOpposedByBaseIn) {
  ContextValues c;
  c.near_phoria = Pd(-4);
  c.base_out_blur = Pd(30);
  EXPECT_EQ(SheardStatus(c), Status::kNotEnoughData);
  c.base_in_break = Pd(8);
  EXPECT_EQ(SheardStatus(c), Status::kMet);
}

TEST(Criteria, AllFourSigns) {
  const auto criteria = EvaluateCriteria(Break(90, 110), ReferencePlane::kCorneal, Signs());
  ASSERT_EQ(criteria.size(), 6u);
  for (const Criterion& c : criteria) EXPECT_FALSE(c.source.empty());
  EXPECT_EQ(StatusOf(criteria, "Sheard"), Status::kNotMet);
  for (const char* sign : {"Exophoria", "Near point", "Positive", "Symptom", "All four"}) {
    EXPECT_EQ(StatusOf(criteria, sign), Status::kMet) << sign;
  }
}

TEST(Criteria, OneMissingSignSettlesIt) {
  ContextValues c = Signs();
  c.symptom_score.reset();
  c.far_phoria = Pd(5);
  const auto criteria = EvaluateCriteria(Break(90, 110), ReferencePlane::kCorneal, c);
  EXPECT_EQ(StatusOf(criteria, "Exophoria"), Status::kNotMet);
  EXPECT_EQ(StatusOf(criteria, "All four"), Status::kNotMet);
}

TEST(Criteria, NothingKnownIsNotEnoughData) {
  for (const Criterion& c : EvaluateCriteria(Estimate(), ReferencePlane::kCorneal, {})) {
    EXPECT_EQ(c.status, Status::kNotEnoughData) << c.name;
  }
}

TEST(Criteria, AnUncertainNearPointIsNotEnoughData) {
  EXPECT_EQ(
      StatusOf(EvaluateCriteria(Break(70, 80), ReferencePlane::kCorneal, Signs()), "Near point"),
      Status::kNotEnoughData);
  EXPECT_EQ(
      StatusOf(EvaluateCriteria(Break(50, 70), ReferencePlane::kCorneal, Signs()), "Near point"),
      Status::kNotMet);
}

TEST(Criteria, ReserveOfFifteenOrLess) {
  ContextValues c = Signs();
  c.near_phoria = Pd(2);
  c.base_out_break = Pd(15);
  const Estimate e = Break(90, 110);
  EXPECT_EQ(StatusOf(EvaluateCriteria(e, ReferencePlane::kCorneal, c), "Positive"), Status::kMet);
  c.base_out_break = Pd(16);
  EXPECT_EQ(StatusOf(EvaluateCriteria(e, ReferencePlane::kCorneal, c), "Positive"),
            Status::kNotMet);
  c.near_phoria = Pd(9);  // 16 is less than twice 9
  EXPECT_EQ(StatusOf(EvaluateCriteria(e, ReferencePlane::kCorneal, c), "Positive"), Status::kMet);
}

TEST(Criteria, SymptomLimitGoesWithAge) {
  ContextValues c = Signs();
  c.symptom_score = 18;
  const Estimate e;
  EXPECT_EQ(StatusOf(EvaluateCriteria(e, ReferencePlane::kCorneal, c), "Symptom"), Status::kMet);
  c.age_years = 25;
  EXPECT_EQ(StatusOf(EvaluateCriteria(e, ReferencePlane::kCorneal, c), "Symptom"), Status::kNotMet);
  c.age_years = 7;
  EXPECT_EQ(StatusOf(EvaluateCriteria(e, ReferencePlane::kCorneal, c), "Symptom"),
            Status::kNotEnoughData);
}

}  // namespace
}  // namespace nearpoint
