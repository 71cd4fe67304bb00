// What is known beforehand of the lenses that a person looks through, from what they said of their
// glasses.
#pragma once

#include <Eigen/Core>
#include <optional>

#include "calibration/glasses.h"
#include "vision/distance/head_model.h"

namespace nearpoint {

// In the order of PersonalIndex from kLensFirst on, in its units.
struct LensPrior {
  Eigen::Matrix<double, kLensCount, 1> mean;
  Eigen::Matrix<double, kLensCount, kLensCount> covariance;
};

[[nodiscard]] bool IsWorn(const std::optional<Glasses>& glasses);

// One deviation of the power of a lens of which nothing is known but that it is worn: glasses for
// reading run from -8 to +5 dioptres (our own judgement). The two of a person differ by far less.
inline constexpr Diopters kUnknownPowerSd = Diopters::Of(3.5);
inline constexpr Diopters kUnknownDifferenceSd = Diopters::Of(1.0);

// Glasses that are not worn, or of which nothing is known: no lens, every deviation kPinnedSd.
// Worn: the power along the eye line of each lens. A prescription counts with its deviation and
// with what the thin lens leaves out (base curve and thickness, the width between the meridians of
// a cylinder, a reading addition that is looked through or not); a lens without a prescription is
// like that of the other eye, or unknown.
[[nodiscard]] LensPrior LensPriorOf(const std::optional<Glasses>& glasses);

}  // namespace nearpoint
