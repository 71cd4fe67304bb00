// Whether somebody of whom nothing was said about glasses looks through lenses: two accounts of the
// same eyes, without lenses and with lenses of unknown power, are followed side by side.
#pragma once

#include "vision/core/units.h"
#include "vision/distance/head_fit.h"

namespace nearpoint {

// How far a frame's numbers may be off because nobody spoke of lenses: how far the account with
// lenses is from what is stated, weighed by how likely it is; one standard deviation each.
struct LensDoubt {
  Length distance;
  Angle vergence;
};

class LensWatch {
 public:
  // profile: says nothing of glasses.
  explicit LensWatch(const Profile& profile);

  // One frame in which both eyes are seen on the target, and the fit whose numbers are stated.
  // share: how much of a whole observation the frame counts, 0 to 1; at 0 nothing is learned.
  LensDoubt Look(const HeadFit& fit, const HeadObservation& observation, double share);

  // Of lenses being worn, 0 to 1; before any frame that of about every third person, who reads with
  // them.
  [[nodiscard]] double probability() const;
  // Lenses that are overlooked cost more than the size of the iris that is given up for lenses that
  // are not there.
  [[nodiscard]] bool Worn() const { return probability() > 0.4; }
  // The profile and the person with lenses, as taught so far.
  [[nodiscard]] const Profile& profile() const { return profile_; }
  [[nodiscard]] const HeadModel& model() const { return with_; }
  // The same about another power, to look for eyes of that size.
  [[nodiscard]] HeadModel ModelAbout(double diopters) const;

 private:
  Profile profile_;
  HeadModel without_, with_;
  double log_odds_;
};

}  // namespace nearpoint
