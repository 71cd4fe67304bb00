// What can be said of report and eyes where the eyes are seen through lenses whose power is not
// exactly known.
#pragma once

#include <span>
#include <vector>

#include "app/measure/agreement.h"
#include "app/measure/trial.h"
#include "vision/core/distance_sample.h"

namespace nearpoint {

// The frames as they would be with both lenses so many deviations more plus; frames that do not say
// what that changes stay.
[[nodiscard]] std::vector<DistanceSample> WithLensPower(std::span<const DistanceSample> samples,
                                                        double deviations);

// A disagreement stands where it is found with every power within two deviations; otherwise nothing
// can be told, and the sentence says why. samples: of the trial.
[[nodiscard]] TrialAgreement WithinLensPower(const Trial& trial,
                                             std::span<const DistanceSample> samples,
                                             TrialAgreement found,
                                             const AgreementOptions& options = {});

}  // namespace nearpoint
