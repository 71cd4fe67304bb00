// Collects tracked frames with their truth and prints, per range of distance, how far off they are
// and whether the stated deviations are honest.
#pragma once

#include <cstdio>
#include <optional>
#include <string>
#include <vector>

#include "vision/core/distance_sample.h"

namespace nearpoint::bench {

struct TruthRow {
  double distance_mm = 0;
  double lids_closed = 0;  // 0..1
  double left_inward_deg = 0,
         right_inward_deg = 0;  // rotation in the head frame, toward the nose positive
};

class AccuracyTable {
 public:
  void Add(const TruthRow& truth, const DistanceSample& sample);
  // One line a range; frames with the lids more than half shut count only in the blink row.
  void Print(std::FILE* out) const;
  // The same figures for one range, for tables over conditions.
  struct Figures {
    int frames = 0, valid = 0;
    double median_mm = 0, p95_mm = 0, bias_mm = 0, median_percent = 0, within_1sd = 0,
           within_2sd = 0;
    double vergence_within_1sd = 0, vergence_within_2sd = 0;  // percent
    double vergence_median_deg = 0, vergence_p95_deg = 0, rotation_median_deg = 0,
           rotation_p95_deg = 0;
  };
  [[nodiscard]] Figures Of(double from_mm, double to_mm) const;
  [[nodiscard]] double largest_step_mm() const { return largest_step_mm_; }

 private:
  struct Row {
    TruthRow truth;
    DistanceSample sample;
  };
  std::vector<Row> rows_;
  std::optional<Row> last_;
  double largest_step_mm_ = 0;  // change of the error where the regime changes
};

}  // namespace nearpoint::bench
