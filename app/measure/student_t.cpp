#include "app/measure/student_t.h"

#include <cmath>

#include "app/measure/normal.h"

namespace nearpoint {
namespace {

// Continued fraction of the incomplete beta function (modified Lentz); converges fast for x < (a +
// 1) / (a + b + 2).
double BetaFraction(double a, double b, double x) {
  constexpr double kTiny = 1e-300;
  double c = 1;
  double d = 1 - (a + b) * x / (a + 1);
  d = 1 / (std::abs(d) < kTiny ? kTiny : d);
  double h = d;
  for (int m = 1; m <= 1000; ++m) {
    const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    double change = 1;
    for (const double term : {even, odd}) {
      d = 1 + term * d;
      d = 1 / (std::abs(d) < kTiny ? kTiny : d);
      c = 1 + term / c;
      if (std::abs(c) < kTiny) c = kTiny;
      change = d * c;
      h *= change;
    }
    if (std::abs(change - 1) < 1e-16) break;
  }
  return h;
}

// std::lgamma writes a global; the sign it reports is not needed for positive arguments.
double LogGamma(double x) {
  int sign = 0;
  return lgamma_r(x, &sign);
}

double RegularizedBeta(double a, double b, double x) {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const double front =
      std::exp(LogGamma(a + b) - LogGamma(a) - LogGamma(b) + a * std::log(x) + b * std::log1p(-x));
  if (x < (a + 1) / (a + b + 2)) return front * BetaFraction(a, b, x) / a;
  return 1 - front * BetaFraction(b, a, 1 - x) / b;
}

}  // namespace

double StudentTCdf(double t, double degrees) {
  const double tail = 0.5 * RegularizedBeta(degrees / 2, 0.5, degrees / (degrees + t * t));
  return t > 0 ? 1 - tail : tail;
}

double StudentTQuantile(double p, double degrees) {
  if (p == 0.5) return 0;
  if (p < 0.5) return -StudentTQuantile(1 - p, degrees);
  double low = 0;
  double high = 1;
  while (StudentTCdf(high, degrees) < p && high < 1e300) high *= 2;
  for (int i = 0; i < 200 && high - low > 1e-15 * high; ++i) {
    const double middle = 0.5 * (low + high);
    (StudentTCdf(middle, degrees) < p ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

TInterval MeanTInterval(double mean, double sd, int n, double level) {
  const double half = StudentTQuantile(0.5 + level / 2, n - 1) * sd / std::sqrt(n);
  return {mean - half, mean + half};
}

PooledT TwoSampleT(double mean1, double sd1, int n1, double mean2, double sd2, int n2) {
  PooledT result;
  result.degrees = n1 + n2 - 2;
  result.pooled_sd = std::sqrt(((n1 - 1) * sd1 * sd1 + (n2 - 1) * sd2 * sd2) / result.degrees);
  result.t = (mean1 - mean2) / (result.pooled_sd * std::sqrt(1.0 / n1 + 1.0 / n2));
  result.p_two_sided = 2 * StudentTCdf(-std::abs(result.t), result.degrees);
  return result;
}

}  // namespace nearpoint
