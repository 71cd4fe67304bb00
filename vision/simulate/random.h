// Random numbers that are the same on every machine: the standard library's distributions are not.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <vector>

namespace nearpoint::simulate {

// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014). `stream` keeps unrelated draws of one seed
// apart.
class Random {
 public:
  explicit Random(std::uint64_t seed, std::uint64_t stream = 0)
      : state_(seed * 0x9E3779B97F4A7C15ULL + (stream + 1) * 0xD1B54A32D192ED03ULL) {}

  std::uint64_t Next() {
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
  }
  double Uniform() { return static_cast<double>(Next() >> 11) * 0x1.0p-53; }  // [0, 1)
  double Uniform(double low, double high) { return low + (high - low) * Uniform(); }
  double Normal() {
    const double radius = std::sqrt(-2 * std::log(1 - Uniform()));
    return radius * std::cos(2 * std::numbers::pi * Uniform());
  }

 private:
  std::uint64_t state_;
};

// A smooth random function of time with unit variance and frequencies between low_hz and high_hz.
class SmoothNoise {
 public:
  SmoothNoise(Random& random, double low_hz, double high_hz, int terms = 7) {
    for (int i = 0; i < terms; ++i) {
      const double hz = low_hz * std::pow(high_hz / low_hz, (i + random.Uniform()) / terms);
      terms_.push_back({2 * std::numbers::pi * hz, random.Uniform(0, 2 * std::numbers::pi)});
    }
    scale_ = std::sqrt(2.0 / terms);
  }
  [[nodiscard]] double At(double seconds) const {
    double sum = 0;
    for (const Term& term : terms_) sum += std::sin(term.rate * seconds + term.phase);
    return scale_ * sum;
  }

 private:
  struct Term {
    double rate, phase;
  };
  std::vector<Term> terms_;
  double scale_ = 1;
};

[[nodiscard]] inline double SmoothStep(double edge0, double edge1, double x) {
  double t = (x - edge0) / (edge1 - edge0);
  t = t < 0 ? 0 : (t > 1 ? 1 : t);
  return t * t * (3 - 2 * t);
}

}  // namespace nearpoint::simulate
