// What is known of the spectacles of one person. Contact lenses count as none: they move with the
// eye and stand on it.
#pragma once

#include <optional>

#include "vision/core/units.h"

namespace nearpoint {

// Power of a lens, 1 / metre.
class Diopters : public Quantity<Diopters> {
 public:
  constexpr Diopters() = default;
  [[nodiscard]] static constexpr Diopters Of(double value) { return Diopters(value); }
  [[nodiscard]] constexpr double value() const { return value_; }

 private:
  friend class Quantity<Diopters>;
  explicit constexpr Diopters(double value) : Quantity(value) {}
};

// A power with one standard deviation.
struct UncertainPower {
  Diopters value;
  Diopters sd;

  friend bool operator==(const UncertainPower&, const UncertainPower&) = default;
};

// Prescriptions are written in steps of a quarter, and glasses are often a year or two old.
inline constexpr Diopters kPrescriptionSd = Diopters::Of(0.25);

// One lens, as a prescription states it.
struct LensPrescription {
  UncertainPower sphere{Diopters::Of(0), kPrescriptionSd};
  UncertainPower cylinder{Diopters::Of(0), Diopters::Of(0)};  // of either sign
  std::optional<Angle> axis;  // ISO 8429, 0 to 180 degrees; absent: not known
  // Horizontal, base out positive; what stands up or down is not kept.
  PrismDiopters base_out;
  PrismDiopters base_out_sd;

  friend bool operator==(const LensPrescription&, const LensPrescription&) = default;
};

struct Glasses {
  std::optional<bool> worn;                     // while measuring; absent: nobody said
  std::optional<LensPrescription> right, left;  // absent: not known
  std::optional<UncertainPower> addition;       // reading addition; absent or 0: none
  UncertainLength vertex{Length::Millimeters(12), Length::Millimeters(2)};  // lens to cornea
};

}  // namespace nearpoint
