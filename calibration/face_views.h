// Collects the pictures of a face with the card on it until the personal scale can be fitted. Pure.
#pragma once

#include <cstddef>
#include <vector>

#include "calibration/face_fit.h"

namespace nearpoint {

class FaceViews {
 public:
  static constexpr std::size_t kEnoughViews = 45;  // of a camera that would go on for ever
  static constexpr double kEnoughTurnDeg = 20;

  // turn_deg: of the card to the patient's left in that picture.
  void Add(const FaceCardView& view, double turn_deg);
  [[nodiscard]] std::size_t count() const { return views_.size(); }
  [[nodiscard]] double TurnedDeg() const;  // between the two farthest turns; 0 before two views
  [[nodiscard]] bool Enough() const {
    return views_.size() >= kEnoughViews && TurnedDeg() >= kEnoughTurnDeg;
  }
  // At most 80 of them, evenly chosen.
  [[nodiscard]] std::vector<FaceCardView> Chosen() const;

 private:
  std::vector<FaceCardView> views_;
  double least_deg_ = 0, most_deg_ = 0;
};

}  // namespace nearpoint
