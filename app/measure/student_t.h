// Student's t distribution and the plain interval of a mean made with it.
#pragma once

#include <span>

namespace nearpoint {

// P(T <= t) with `degrees` > 0 degrees of freedom (need not be whole).
[[nodiscard]] double StudentTCdf(double t, double degrees);

// The t with StudentTCdf(t, degrees) = p; p in (0, 1).
[[nodiscard]] double StudentTQuantile(double p, double degrees);

struct TInterval {
  double low = 0;
  double high = 0;
};

// mean -+ t s / sqrt(n), n >= 2, level in (0, 1).
[[nodiscard]] TInterval MeanTInterval(double mean, double sd, int n, double level);

// Two means compared, equal spread assumed.
struct PooledT {
  double pooled_sd = 0;
  double t = 0;
  int degrees = 0;
  double p_two_sided = 1;
};
[[nodiscard]] PooledT TwoSampleT(double mean1, double sd1, int n1, double mean2, double sd2,
                                 int n2);

}  // namespace nearpoint
