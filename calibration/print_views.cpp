#include "calibration/print_views.h"

#include <algorithm>

#include "calibration/upper_median.h"

namespace nearpoint {

void PrintViews::Add(const PrintScale& one) {
  widths_.push_back(one.width);
  heights_.push_back(one.height);
  sd_ = std::max(sd_, one.sd);
}

std::optional<PrintScale> PrintViews::Measured() const {
  if (widths_.empty()) return std::nullopt;
  return PrintScale{UpperMedian(widths_), UpperMedian(heights_), sd_};
}

}  // namespace nearpoint
