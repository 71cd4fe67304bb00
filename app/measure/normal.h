// The standard normal distribution.
#pragma once

namespace nearpoint {

[[nodiscard]] double NormalPdf(double z);
[[nodiscard]] double NormalCdf(double z);

// The natural logarithm of NormalCdf, accurate in the far lower tail where the value itself is
// zero.
[[nodiscard]] double LogNormalCdf(double z);

// NormalPdf / NormalCdf, the hazard of the reflected variable; finite for every finite z.
[[nodiscard]] double InverseMills(double z);

// The z with NormalCdf(z) = p; p in (0, 1), minus and plus infinity at the ends. Acklam's rational
// start and one Halley step: relative error below 1e-14.
[[nodiscard]] double NormalQuantile(double p);

}  // namespace nearpoint
