#include "tests/bench/accuracy_table.h"

#include <algorithm>
#include <cmath>

namespace nearpoint::bench {
namespace {

double Quantile(std::vector<double> v, double q) {
  if (v.empty()) return std::nan("");
  std::sort(v.begin(), v.end());
  const double k = static_cast<double>(v.size() - 1) * q;
  const auto lo = static_cast<std::size_t>(std::floor(k)),
             hi = static_cast<std::size_t>(std::ceil(k));
  return v[lo] + (v[hi] - v[lo]) * (k - static_cast<double>(lo));
}

}  // namespace

void AccuracyTable::Add(const TruthRow& truth, const DistanceSample& sample) {
  const Row row{truth, sample};
  if (last_ && last_->sample.distance && sample.distance && last_->sample.mode != sample.mode) {
    const double before = last_->sample.distance->value.mm() - last_->truth.distance_mm;
    const double after = sample.distance->value.mm() - truth.distance_mm;
    largest_step_mm_ = std::max(largest_step_mm_, std::abs(after - before));
  }
  last_ = row;
  rows_.push_back(row);
}

AccuracyTable::Figures AccuracyTable::Of(double from_mm, double to_mm) const {
  Figures f;
  std::vector<double> error, percent, vergence, rotation;
  int one = 0, two = 0, vergence_one = 0, vergence_two = 0;
  double sum = 0;
  for (const Row& row : rows_) {
    const double d = row.truth.distance_mm;
    if (row.truth.lids_closed > 0.5 || d < from_mm || d >= to_mm) continue;
    ++f.frames;
    if (!row.sample.distance) continue;
    ++f.valid;
    const double e = row.sample.distance->value.mm() - d, sd = row.sample.distance->sd.mm();
    error.push_back(std::abs(e));
    percent.push_back(100 * std::abs(e) / d);
    sum += e;
    one += std::abs(e) <= sd;
    two += std::abs(e) <= 2 * sd;
    if (row.sample.vergence) {
      const double off = std::abs(row.sample.vergence->deg() - row.truth.left_inward_deg -
                                  row.truth.right_inward_deg);
      vergence.push_back(off);
      vergence_one += off <= row.sample.vergence_sd->deg();
      vergence_two += off <= 2 * row.sample.vergence_sd->deg();
    }
    const auto& s = row.sample;
    if (s.left_eye && s.left_eye->rotation) {
      rotation.push_back(
          std::abs(s.left_eye->rotation->horizontal.deg() - row.truth.left_inward_deg));
    }
    if (s.right_eye && s.right_eye->rotation) {
      rotation.push_back(
          std::abs(s.right_eye->rotation->horizontal.deg() - row.truth.right_inward_deg));
    }
  }
  f.median_mm = Quantile(error, 0.5);
  f.p95_mm = Quantile(error, 0.95);
  f.bias_mm = f.valid ? sum / f.valid : std::nan("");
  f.median_percent = Quantile(percent, 0.5);
  f.within_1sd = f.valid ? 100.0 * one / f.valid : std::nan("");
  f.within_2sd = f.valid ? 100.0 * two / f.valid : std::nan("");
  f.vergence_median_deg = Quantile(vergence, 0.5);
  f.vergence_p95_deg = Quantile(vergence, 0.95);
  const auto percent_of = [](int n, std::size_t of) {
    return of == 0 ? std::nan("") : 100.0 * n / static_cast<double>(of);
  };
  f.vergence_within_1sd = percent_of(vergence_one, vergence.size());
  f.vergence_within_2sd = percent_of(vergence_two, vergence.size());
  f.rotation_median_deg = Quantile(rotation, 0.5);
  f.rotation_p95_deg = Quantile(rotation, 0.95);
  return f;
}

void AccuracyTable::Print(std::FILE* out) const {
  std::fprintf(out,
               "  distance    frames  valid  median    p95    bias  median   <=1sd  <=2sd   "
               "vergence    <=1sd <=2sd   rotation\n"
               "  mm                      %%  |e| mm   |e| mm     mm       %%       %%      %%   "
               "median p95     %%    %%   median p95 deg\n");
  const auto line = [&](const char* name, double from, double to) {
    const Figures f = Of(from, to);
    if (f.frames == 0) return;
    std::fprintf(out,
                 "  %-10s %7d  %5.1f  %6.2f  %6.2f  %6.2f  %6.2f   %5.1f  %5.1f   %5.2f %5.2f  "
                 "%5.1f %5.1f   %5.2f %5.2f\n",
                 name, f.frames, 100.0 * f.valid / f.frames, f.median_mm, f.p95_mm, f.bias_mm,
                 f.median_percent, f.within_1sd, f.within_2sd, f.vergence_median_deg,
                 f.vergence_p95_deg, f.vergence_within_1sd, f.vergence_within_2sd,
                 f.rotation_median_deg, f.rotation_p95_deg);
  };
  line("0-60", 0, 60);
  line("60-80", 60, 80);
  line("80-100", 80, 100);
  line("100-150", 100, 150);
  line("150-250", 150, 250);
  line("250-400", 250, 400);
  line("400-700", 400, 700);
  line("50-150", 50, 150);
  line("150-620", 150, 620);
  line("80-400", 80, 400);
  int blinks = 0, said = 0;
  for (const Row& row : rows_) {
    if (row.truth.lids_closed <= 0.5) continue;
    ++blinks;
    said += row.sample.why.has_value();
  }
  std::fprintf(out,
               "  blink frames %d, of them with a reason %d; largest change of the error at a "
               "hand-over %.2f mm\n",
               blinks, said, largest_step_mm_);
}

}  // namespace nearpoint::bench
