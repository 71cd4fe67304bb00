#include "app/measure/mixture.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "app/measure/normal.h"

namespace nearpoint {

GridDensity::GridDensity(double first, double step, std::vector<double> values)
    : first_(first), step_(step), values_(std::move(values)) {
  const std::size_t n = values_.size();
  slopes_.assign(n, 0);
  for (std::size_t i = 1; i + 1 < n; ++i) slopes_[i] = (values_[i + 1] - values_[i - 1]) / 2;
  // Where two neighbours to each side exist, the difference of fourth order.
  for (std::size_t i = 2; i + 2 < n; ++i) {
    slopes_[i] = (8 * (values_[i + 1] - values_[i - 1]) - (values_[i + 2] - values_[i - 2])) / 12;
  }
  slopes_[0] = values_[1] - values_[0];
  slopes_[n - 1] = values_[n - 1] - values_[n - 2];
  cumulative_.assign(n, 0);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    cumulative_[i + 1] =
        cumulative_[i] + (values_[i] + values_[i + 1]) / 2 + (slopes_[i] - slopes_[i + 1]) / 12;
  }
  const double total = cumulative_[n - 1];
  double moment1 = 0;
  double moment2 = 0;
  for (std::size_t i = 0; i < n; ++i) {
    values_[i] /= total;
    slopes_[i] /= total;
    cumulative_[i] /= total;
    const auto k = static_cast<double>(i);
    moment1 += values_[i] * k;
    moment2 += values_[i] * k * k;
  }
  mean_ = first_ + step_ * moment1;
  variance_ = step_ * step_ * (moment2 - moment1 * moment1);
}

double GridDensity::high() const {
  return first_ + step_ * static_cast<double>(values_.size() - 1);
}

double GridDensity::Cdf(double x) const {
  const double place = (x - first_) / step_;
  if (place <= 0) return 0;
  const std::size_t cell = static_cast<std::size_t>(place);
  if (cell + 1 >= values_.size()) return 1;
  const double u = place - static_cast<double>(cell);
  // The integral of the cubic Hermite polynomial from 0 to u.
  const double u2 = u * u;
  const double u3 = u2 * u;
  const double u4 = u2 * u2;
  return cumulative_[cell] + values_[cell] * (u4 / 2 - u3 + u) +
         slopes_[cell] * (u4 / 4 - 2 * u3 / 3 + u2 / 2) + values_[cell + 1] * (-u4 / 2 + u3) +
         slopes_[cell + 1] * (u4 / 4 - u3 / 3);
}

void Mixture::AddNormal(double weight, double mean, double sd) {
  normals_.push_back({weight, mean, sd});
  total_ += weight;
}

void Mixture::AddGrid(double weight, GridDensity density) {
  grids_.push_back({weight, std::move(density)});
  total_ += weight;
}

double Mixture::Cdf(double x) const {
  double sum = 0;
  for (const Normal& n : normals_) sum += n.weight * NormalCdf((x - n.mean) / n.sd);
  for (const Grid& g : grids_) sum += g.weight * g.density.Cdf(x);
  return sum / total_;
}

double Mixture::Quantile(double p) const {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  const double reach = NormalQuantile(std::min(p, 1 - p) / 2) - 1;
  for (const Normal& n : normals_) {
    low = std::min(low, n.mean + reach * n.sd);
    high = std::max(high, n.mean - reach * n.sd);
  }
  for (const Grid& g : grids_) {
    low = std::min(low, g.density.low());
    high = std::max(high, g.density.high());
  }
  // Regula falsi (Illinois) on a bracket: smooth and monotone, so some ten steps; the bisection
  // count is a backstop.
  const double tolerance = 1e-10 * (high - low);
  double f_low = Cdf(low) - p;
  double f_high = Cdf(high) - p;
  if (f_low >= 0) return low;
  if (f_high <= 0) return high;
  double x = low;
  for (int i = 0; i < 100 && high - low > tolerance; ++i) {
    const double next =
        i % 8 == 7 ? 0.5 * (low + high) : low - f_low * (high - low) / (f_high - f_low);
    const double f = Cdf(next) - p;
    const bool settled = std::abs(next - x) < tolerance;
    x = next;
    if (f < 0) {
      low = next;
      f_low = f;
      f_high *= 0.5;
    } else {
      high = next;
      f_high = f;
      f_low *= 0.5;
    }
    if (settled || f == 0) break;
  }
  return x;
}

double Mixture::mean() const {
  double sum = 0;
  for (const Normal& n : normals_) sum += n.weight * n.mean;
  for (const Grid& g : grids_) sum += g.weight * g.density.mean();
  return sum / total_;
}

double Mixture::variance() const {
  const double centre = mean();
  double sum = 0;
  for (const Normal& n : normals_) {
    sum += n.weight * (n.sd * n.sd + (n.mean - centre) * (n.mean - centre));
  }
  for (const Grid& g : grids_) {
    const double offset = g.density.mean() - centre;
    sum += g.weight * (g.density.variance() + offset * offset);
  }
  return sum / total_;
}

}  // namespace nearpoint
