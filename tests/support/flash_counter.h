// Counts flashes in a sequence of pictures as WCAG 2.3.1 defines them (general and red flash).
#pragma once

#include <QImage>
#include <string>
#include <vector>

#include "vision/core/units.h"

namespace nearpoint::testing {

// A flash is a pair of opposing changes. General: of the relative luminance, by 0.1 or more, where
// the darker of the two is below 0.8. Red: with a saturated red (R / (R + G + B) >= 0.8) on one
// side, of (R - G - B) * 320 by more than 20. At most three in any second are allowed, unless less
// than a quarter of any 10 degrees of the field, 341 x 256 pixels, flashes at a time (definitions
// of WCAG 2.1; from memory). Cells of a few pixels are looked at on their own, so that what flashes
// in one place is not averaged with what does not.
class FlashCounter {
 public:
  // In the order of their times, which belong to the person who watches. All of one size.
  void Add(Time time, const QImage& picture);

  // The most changes that any cell makes in any second; six are three flashes.
  [[nodiscard]] int MostChanges() const { return most_changes_; }
  // The largest share of a block of 341 x 256 pixels whose cells flash more than three times within
  // one second.
  [[nodiscard]] double WorstShare() const { return worst_share_; }
  // Pixel of the cell with the most changes, "x,y at s"; for the message of a test.
  [[nodiscard]] const std::string& Where() const { return where_; }

 private:
  struct Follower {
    double extreme = 0;
    bool extreme_red = false;
    int direction = 0;
    bool begun = false;
    std::vector<Time> changes;  // of the last second
  };
  static void Change(Follower& follower, Time time, int direction);
  void Judge(Time time);

  int columns_ = 0, rows_ = 0;
  std::vector<Follower> luminance_, red_;
  int most_changes_ = 0;
  double worst_share_ = 0;
  std::string where_;
};

}  // namespace nearpoint::testing
