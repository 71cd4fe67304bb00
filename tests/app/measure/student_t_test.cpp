#include "app/measure/student_t.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/app/measure/steps.h"

namespace nearpoint {
namespace {

TEST(StudentT, TabledQuantiles) {
  // Every statistics text; four digits.
  EXPECT_NEAR(StudentTQuantile(0.975, 2), 4.3027, 5e-5);
  EXPECT_NEAR(StudentTQuantile(0.975, 4), 2.7764, 5e-5);
  EXPECT_NEAR(StudentTQuantile(0.975, 9), 2.2622, 5e-5);
  // One degree of freedom is the Cauchy distribution: tan(pi (p - 1/2)).
  EXPECT_NEAR(StudentTQuantile(0.975, 1), 12.706204736, 1e-8);
  EXPECT_NEAR(StudentTCdf(1, 1), 0.75, 1e-14);
}

TEST(StudentT, MeanIntervalOfNistZarr13) {
  // NIST/SEMATECH e-Handbook 1.3.5.2, data set ZARR13.
  EXPECT_NEAR(StudentTQuantile(0.975, 194), 1.97227, 1e-5);
  const TInterval interval = MeanTInterval(9.261460, 0.02278881, 195, 0.95);
  EXPECT_NEAR(interval.low, 9.258242, 1e-6);
  EXPECT_NEAR(interval.high, 9.264679, 1e-6);
}

TEST(StudentT, MeanIntervalOfSasHeights) {
  // SAS, PROC UNIVARIATE example 4.9: 95 % interval (64.06, 65.07) of 75 heights; mean and
  // deviation recomputed from the data of that page.
  const TInterval interval = MeanTInterval(64.56667, 2.188998, 75, 0.95);
  EXPECT_NEAR(interval.low, 64.06302, 1e-5);
  EXPECT_NEAR(interval.high, 65.07031, 1e-5);
}

TEST(StudentT, TwoSamplesOfNistAuto83b) {
  // NIST/SEMATECH e-Handbook 1.3.5.3, data set AUTO83B.
  const PooledT t = TwoSampleT(20.14458, 6.41470, 249, 30.48101, 6.10771, 79);
  EXPECT_NEAR(t.pooled_sd, 6.34260, 1e-5);
  EXPECT_NEAR(t.t, -12.62059, 1e-4);  // from means given to five decimals
  EXPECT_EQ(t.degrees, 326);
  EXPECT_LT(t.p_two_sided, 1e-28);
}

TEST(StudentT, QuantileInvertsTheDistribution) {
  for (const double degrees : {1.0, 2.0, 3.5, 10.0, 400.0}) {
    for (const double p : Steps(0.001, 1, 0.0137)) {
      EXPECT_NEAR(StudentTCdf(StudentTQuantile(p, degrees), degrees), p, 1e-12);
    }
  }
}

}  // namespace
}  // namespace nearpoint
