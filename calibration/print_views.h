// Several pictures of the same print, and what they say together.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "calibration/profile.h"

namespace nearpoint {

class PrintViews {
 public:
  static constexpr std::size_t kEnough = 10;

  void Add(const PrintScale& one);
  [[nodiscard]] std::size_t count() const { return widths_.size(); }
  [[nodiscard]] bool Enough() const { return count() >= kEnough; }
  // Medians; the deviation is the largest of one picture, since what is wrong in one (the wall of
  // the card, the paper not flat) is wrong in all. nullopt: no picture.
  [[nodiscard]] std::optional<PrintScale> Measured() const;

 private:
  std::vector<double> widths_, heights_;
  double sd_ = 0;
};

}  // namespace nearpoint
