#include "app/measure/excursion.h"

#include <cmath>

namespace nearpoint {
namespace {

// One shape with unknown size against its absence, given its inner products with the data (h) and
// itself (g): exp(h x - g x^2 / 2) integrated over the normal prior of x.
Excursion IntegrateSize(double h, double g, const ExcursionPrior& prior) {
  const double prior_mean = prior.usual_size.deg();
  const double precision = 1 / (prior.size_spread.deg() * prior.size_spread.deg());
  const double total = g + precision;
  const double pull = h + precision * prior_mean;
  Excursion out;
  out.log_factor = 0.5 * (pull * pull / total - precision * prior_mean * prior_mean +
                          std::log(precision / total));
  out.size_deg = pull / total;
  out.size_sd_deg = 1 / std::sqrt(total);
  return out;
}

}  // namespace

Excursion Returned(const RampProducts& r, const ExcursionPrior& prior) {
  // Shapes: u = ramp2 - ramp1 with factor x, ramp2 with factor d. d first, given x.
  const double data = r.data2 - r.data1;
  const double inner = r.inner11 + r.inner22 - 2 * r.inner12;
  const double cross = r.inner22 - r.inner12;
  const double variance = prior.return_differs.deg() * prior.return_differs.deg();
  const double total = r.inner22 + 1 / variance;
  Excursion out =
      IntegrateSize(data - cross * r.data2 / total, inner - cross * cross / total, prior);
  out.log_factor += 0.5 * r.data2 * r.data2 / total - 0.5 * std::log(variance * total);
  out.return_extra_deg = (r.data2 - cross * out.size_deg) / total;
  out.return_sd_deg = 1 / std::sqrt(total);
  return out;
}

Excursion Unreturned(double data1, double inner11, const ExcursionPrior& prior) {
  return IntegrateSize(-data1, inner11, prior);
}

}  // namespace nearpoint
