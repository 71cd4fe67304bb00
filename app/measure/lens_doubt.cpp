#include "app/measure/lens_doubt.h"

#include <algorithm>

#include "app/measure/objective_break.h"

namespace nearpoint {
namespace {

// What 95 % of powers stay within, its ends and half way.
constexpr double kPowers[] = {-2, -1, 1, 2};

}  // namespace

std::vector<DistanceSample> WithLensPower(std::span<const DistanceSample> samples,
                                          double deviations) {
  std::vector<DistanceSample> moved(samples.begin(), samples.end());
  for (DistanceSample& sample : moved) {
    if (!sample.lens_shift) continue;
    const Angle shift = deviations * *sample.lens_shift;
    if (sample.vergence) sample.vergence = *sample.vergence + shift;
    for (auto* eye : {&sample.left_eye, &sample.right_eye}) {
      if (*eye && (*eye)->rotation)
        (*eye)->rotation->horizontal = (*eye)->rotation->horizontal + 0.5 * shift;
    }
  }
  return moved;
}

TrialAgreement WithinLensPower(const Trial& trial, std::span<const DistanceSample> samples,
                               TrialAgreement found, const AgreementOptions& options) {
  if (!Disagrees(found.agreement)) return found;
  if (std::ranges::none_of(samples,
                           [](const DistanceSample& s) { return s.lens_shift.has_value(); }))
    return found;
  for (const double power : kPowers) {
    const ObjectiveResult seen = AnalyseVergence(WithLensPower(samples, power));
    if (Disagrees(CompareReport(trial, seen, options).agreement)) continue;
    found.agreement = Agreement::kCannotTell;
    found.sentence =
        "Whether the eyes bear out the report depends on the strength of the glasses, which is not "
        "known well enough to tell.";
    return found;
  }
  return found;
}

}  // namespace nearpoint
