#include "app/measure/norms.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace nearpoint {
namespace {

Estimate WithBand(double value, double half) {
  Estimate e;
  e.break_mm = Band{.value = value, .low = value - half, .high = value + half, .level = 0.95};
  e.recovery_mm =
      Band{.value = value + 25, .low = value + 25 - half, .high = value + 25 + half, .level = 0.95};
  return e;
}

TEST(Norms, PublishedLimits) {
  const Norm& adults = **FindNorm("scheiman-2003");
  EXPECT_EQ(adults.break_limit->cm(), 5);
  EXPECT_EQ(adults.recovery_limit->cm(), 7);
  EXPECT_EQ((*FindNorm("citt"))->break_limit->cm(), 6);
  EXPECT_EQ((*FindNorm("moon-2020"))->break_limit->cm(), 7.2);
  EXPECT_EQ((*FindNorm("hayes-1998-grade-3"))->break_mean->mean.cm(), 4.1);
  EXPECT_EQ((*FindNorm("hayes-1998-grade-3"))->break_mean->sd->cm(), 2.4);
}

TEST(Norms, EveryOneHasANameASourceAndSomethingToCompare) {
  for (const Norm& norm : AllNorms()) {
    EXPECT_FALSE(norm.name.empty());
    EXPECT_FALSE(norm.source.empty());
    EXPECT_LT(norm.age_from, norm.age_to);
    EXPECT_FALSE(norm.targets.empty());
    EXPECT_TRUE(norm.break_limit || norm.break_mean) << norm.id;
    EXPECT_EQ(std::ranges::count(AllNorms(), norm.id, &Norm::id), 1) << norm.id;
  }
}

TEST(Norms, ChosenByAgeAndTarget) {
  EXPECT_EQ((*DefaultNorm(30, TargetType::kAccommodative))->id, "scheiman-2003");
  EXPECT_EQ((*DefaultNorm(30, TargetType::kLight))->id, "scheiman-2003");
  EXPECT_EQ((*DefaultNorm(12, TargetType::kAccommodative))->id, "citt");
  EXPECT_EQ((*DefaultNorm(6, TargetType::kAccommodative))->id, "hayes-1998");
  for (const Norm* norm : NormsFor(15, TargetType::kAccommodative)) {
    EXPECT_LE(norm->age_from, 15);
    EXPECT_GE(norm->age_to, 15);
  }
}

TEST(Norms, SaysWhenThereIsNone) {
  for (const auto& [age, target] :
       {std::pair{72.0, TargetType::kAccommodative}, std::pair{3.0, TargetType::kNotStated},
        std::pair{10.0, TargetType::kLight}}) {
    const auto norm = DefaultNorm(age, target);
    ASSERT_FALSE(norm);
    EXPECT_EQ(norm.error().code, ErrorCode::kInsufficient);
    EXPECT_NE(norm.error().message.find("no published limit"), std::string::npos);
  }
  EXPECT_TRUE(NormsFor(80, TargetType::kLight).empty());
  EXPECT_TRUE(NormsFor(-1, TargetType::kLight).empty());
  EXPECT_TRUE(NormsFor(NAN, TargetType::kLight).empty());
  const auto unknown = FindNorm("nobody-1900");
  ASSERT_FALSE(unknown);
  EXPECT_NE(unknown.error().message.find("scheiman-2003"), std::string::npos);
}

TEST(Norms, MovesTheValueToTheNormsPlane) {
  // 70 mm from the cornea is 56.5 mm from the spectacle plane: within 6 cm there, though beyond 6
  // cm as it stands.
  const Norm& citt = **FindNorm("citt");
  const NormComparison c = CompareWithNorm(WithBand(70, 2), ReferencePlane::kCorneal, citt);
  EXPECT_EQ(c.plane, ReferencePlane::kSpectacle);
  EXPECT_NEAR(*c.break_mm->value, 56.5, 1e-12);
  EXPECT_EQ(c.break_answer, Answer::kWithin);
  EXPECT_EQ(c.recovery_answer, Answer::kCannotTell);  // no recovery limit in this norm
  EXPECT_NEAR(BreakLimitIn(citt, ReferencePlane::kCorneal).mm(), 73.5, 1e-12);
  EXPECT_EQ(CompareWithNorm(WithBand(70, 2), ReferencePlane::kSpectacle, citt).break_answer,
            Answer::kBeyond);
  EXPECT_EQ(CompareWithNorm(WithBand(73, 2), ReferencePlane::kCorneal, citt).break_answer,
            Answer::kCannotTell);
}

TEST(Norms, DeviationsFromTheMean) {
  const Norm& third = **FindNorm("hayes-1998-grade-3");
  const NormComparison c =
      CompareWithNorm(WithBand(41 + 2 * 24, 3), ReferencePlane::kSpectacle, third);
  EXPECT_NEAR(*c.break_deviations, 2, 1e-12);
  EXPECT_NEAR(*c.recovery_deviations, (114 - 87) / 42.0, 1e-12);
  EXPECT_FALSE(c.cautions.empty());  // its plane is not stated
}

TEST(Norms, DefaultCutOffOfTheEstimateIsTheAdultOne) {
  EXPECT_EQ(EstimateOptions().cut_off,
            BreakLimitIn(**FindNorm("scheiman-2003"), ReferencePlane::kCorneal));
}

TEST(Norms, WithoutABandThereIsNoAnswer) {
  const NormComparison c =
      CompareWithNorm(Estimate(), ReferencePlane::kCorneal, **FindNorm("citt"));
  EXPECT_EQ(c.break_answer, Answer::kCannotTell);
  EXPECT_FALSE(c.break_mm);
}

TEST(Planes, OffsetsAndThereAndBack) {
  const Length d = Length::Millimeters(60);
  EXPECT_NEAR(MoveToPlane(d, ReferencePlane::kSpectacle, ReferencePlane::kLateralCanthus).mm(), 78,
              1e-12);
  EXPECT_NEAR(MoveToPlane(d, ReferencePlane::kCorneal, ReferencePlane::kCentreOfRotation).mm(),
              73.5, 1e-12);
  for (const auto a : {ReferencePlane::kCorneal, ReferencePlane::kLateralCanthus}) {
    for (const auto b : {ReferencePlane::kSpectacle, ReferencePlane::kCentreOfRotation}) {
      EXPECT_NEAR(MoveToPlane(MoveToPlane(d, a, b), b, a).mm(), 60, 1e-12);
    }
  }
}

}  // namespace
}  // namespace nearpoint
