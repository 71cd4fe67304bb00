#include "app/measure/normal.h"

#include <cmath>
#include <limits>
#include <numbers>

namespace nearpoint {
namespace {

constexpr double kInvSqrtTwoPi = 0.39894228040143267794;
// Below this the ratio pdf / cdf comes from a continued fraction, since both go to zero.
constexpr double kFarTail = -25;

// pdf(z) / cdf(z) for z far below zero: the continued fraction of Laplace, which converges fast
// there.
double MillsTail(double z) {
  const double x = -z;
  double fraction = x;
  for (int k = 12; k >= 1; --k) fraction = x + k / fraction;
  return fraction;
}

}  // namespace

double NormalPdf(double z) { return kInvSqrtTwoPi * std::exp(-0.5 * z * z); }

double NormalCdf(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

double LogNormalCdf(double z) {
  if (z > 5) return std::log1p(-NormalCdf(-z));
  if (z > kFarTail) return std::log(NormalCdf(z));
  return std::log(kInvSqrtTwoPi) - 0.5 * z * z - std::log(MillsTail(z));
}

double InverseMills(double z) { return z > kFarTail ? NormalPdf(z) / NormalCdf(z) : MillsTail(z); }

double NormalQuantile(double p) {
  if (!(p > 0)) return -std::numeric_limits<double>::infinity();
  if (!(p < 1)) return std::numeric_limits<double>::infinity();
  if (p > 0.5) return -NormalQuantile(1 - p);
  double z = 0;
  if (p < 0.02425) {
    const double q = std::sqrt(-2 * std::log(p));
    z = (((((-7.784894002430293e-03 * q - 3.223964580411365e-01) * q - 2.400758277161838e+00) * q -
           2.549732539343734e+00) *
              q +
          4.374664141464968e+00) *
             q +
         2.938163982698783e+00) /
        ((((7.784695709041462e-03 * q + 3.224671290700398e-01) * q + 2.445134137142996e+00) * q +
          3.754408661907416e+00) *
             q +
         1);
  } else {
    const double q = p - 0.5;
    const double r = q * q;
    z = (((((-3.969683028665376e+01 * r + 2.209460984245205e+02) * r - 2.759285104469687e+02) * r +
           1.383577518672690e+02) *
              r -
          3.066479806614716e+01) *
             r +
         2.506628277459239e+00) *
        q /
        (((((-5.447609879822406e+01 * r + 1.615858368580409e+02) * r - 1.556989798598866e+02) * r +
           6.680131188771972e+01) *
              r -
          1.328068155288572e+01) *
             r +
         1);
  }
  const double u = (NormalCdf(z) - p) / NormalPdf(z);
  return z - u / (1 + 0.5 * z * u);
}

}  // namespace nearpoint
