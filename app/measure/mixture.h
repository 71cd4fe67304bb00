// A distribution on a line as a weighted sum of pieces, normal or tabulated.
#pragma once

#include <vector>

namespace nearpoint {

// A density given at even steps, cubic between them.
class GridDensity {
 public:
  // values: at least 2, >= 0, not all zero; step > 0. Normalised here.
  GridDensity(double first, double step, std::vector<double> values);
  [[nodiscard]] double Cdf(double x) const;
  [[nodiscard]] double mean() const { return mean_; }
  [[nodiscard]] double variance() const { return variance_; }
  [[nodiscard]] double low() const { return first_; }
  [[nodiscard]] double high() const;

 private:
  double first_ = 0, step_ = 1;
  std::vector<double> values_, slopes_, cumulative_;
  double mean_ = 0, variance_ = 0;
};

class Mixture {
 public:
  void AddNormal(double weight, double mean, double sd);
  void AddGrid(double weight, GridDensity density);

  [[nodiscard]] bool empty() const { return normals_.empty() && grids_.empty(); }
  // Below: not empty.
  [[nodiscard]] double Cdf(double x) const;
  [[nodiscard]] double Quantile(double p) const;  // p in (0, 1)
  [[nodiscard]] double mean() const;
  [[nodiscard]] double variance() const;

 private:
  struct Normal {
    double weight, mean, sd;
  };
  struct Grid {
    double weight;
    GridDensity density;
  };
  std::vector<Normal> normals_;
  std::vector<Grid> grids_;
  double total_ = 0;
};

}  // namespace nearpoint
