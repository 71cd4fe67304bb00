// Eyes to practise with: a person who looks where the counter asks, as samples without pictures.
// Nothing of it is a measurement.
#pragma once

#include <cstdint>
#include <random>

#include "app/exercise/repetition_counter.h"
#include "vision/core/distance_sample.h"
#include "vision/core/units.h"

namespace nearpoint {

class PracticeEyes {
 public:
  explicit PracticeEyes(std::uint64_t seed = 1) : random_(seed) {}

  static constexpr Length kPupils = Length::Millimeters(60);
  static constexpr Length kScreen = Length::Millimeters(500);  // from the corneal plane

  // The sample at this time; times rise. asked: what the pair asks, nullopt while none is shown.
  [[nodiscard]] DistanceSample At(Time time, CounterPhase phase, std::optional<Angle> asked);
  // Whether this person sees the pair as one now.
  [[nodiscard]] bool sees_one() const { return sees_one_; }

 private:
  std::mt19937_64 random_;
  std::optional<Time> last_;
  std::int64_t frames_ = 0;
  double vergence_deg_ = 0;
  double near_s_ = 0;
  bool sees_one_ = false;
};

}  // namespace nearpoint
