#include "app/measure/summary.h"

#include <gtest/gtest.h>

#include <vector>

namespace nearpoint {
namespace {

// Bland & Altman, Lancet 1986;i:307-310: peak flow of 17 people, two meters, twice each.
const std::vector<double> kWright1 = {494, 395, 516, 434, 476, 557, 413, 442, 650,
                                      433, 417, 656, 267, 478, 178, 423, 427};
const std::vector<double> kWright2 = {490, 397, 512, 401, 470, 611, 415, 431, 638,
                                      429, 420, 633, 275, 492, 165, 372, 421};
const std::vector<double> kMini1 = {512, 430, 520, 428, 500, 600, 364, 380, 658,
                                    445, 432, 626, 260, 477, 259, 350, 451};
const std::vector<double> kMini2 = {525, 415, 508, 444, 500, 625, 460, 390, 642,
                                    432, 420, 605, 227, 467, 268, 370, 443};

TEST(Agreement, PeakFlowOfBlandAndAltman) {
  // Printed there with two deviations: -2.1, 38.8, -79.7 and 75.5.
  const AgreementLimits a = LimitsOfAgreement(kWright1, kMini1, 2);
  EXPECT_NEAR(a.mean_difference, -2.1, 0.05);
  EXPECT_NEAR(a.sd, 38.8, 0.05);
  EXPECT_NEAR(a.low, -79.7, 0.1);  // printed from rounded numbers
  EXPECT_NEAR(a.high, 75.5, 0.1);
  // Computed from the same data.
  EXPECT_NEAR(a.mean_difference, -2.1176, 1e-4);
  EXPECT_NEAR(a.sd, 38.7651, 1e-4);
}

TEST(Agreement, RepeatsOfBlandAndAltman) {
  // Computed from the same data.
  EXPECT_NEAR(WithinSubjectSd(kWright1, kWright2), 15.31, 0.005);
  EXPECT_NEAR(WithinSubjectSd(kMini1, kMini2), 19.91, 0.005);
}

TEST(Summary, NistNumAcc4) {
  // NIST StRD, NumAcc4: 10000000.2, then 500 pairs of .1 and .3; certified mean 10000000.2,
  // deviation 0.1.
  std::vector<double> values = {10000000.2};
  for (int i = 0; i < 500; ++i) {
    values.push_back(10000000.1);
    values.push_back(10000000.3);
  }
  const Summary s = Summarize(values);
  EXPECT_EQ(s.n, 1001);
  EXPECT_NEAR(s.mean, 10000000.2, 2e-9);
  // The values themselves are rounded to 2e-9 in a double, a 1e-8 part of the deviation.
  EXPECT_NEAR(s.sd, 0.1, 2e-9);
}

TEST(Summary, FewNumbers) {
  EXPECT_EQ(Summarize({}).n, 0);
  EXPECT_EQ(Summarize(std::vector<double>{5}).mean, 5);
  EXPECT_EQ(Summarize(std::vector<double>{5}).sd, 0);
}

}  // namespace
}  // namespace nearpoint
