// What is known of one camera, one person and one target: the input of every distance. Types only;
// profile_json.h reads and writes the file.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>

#include "calibration/glasses.h"
#include "calibration/origin.h"
#include "vision/core/units.h"

namespace nearpoint {

// Pinhole camera with the OpenCV distortion model. Pixels; pixel centres at integers.
struct CameraIntrinsics {
  int width = 0;
  int height = 0;
  double fx = 0;  // > 0
  double fy = 0;  // > 0
  double cx = 0;
  double cy = 0;
  std::array<double, 5> distortion{};  // k1, k2, p1, p2, k3
  double focal_rel_sd = 0;  // one standard deviation of fx and fy together, as a fraction, >= 0
};

// Lengths of one face. An absent value is unknown: population.h fills it with the population's mean
// and spread.
struct FaceScale {
  std::optional<UncertainLength> outer_corners;       // outer canthus to outer canthus
  std::optional<UncertainLength> inner_corners;       // inner canthus to inner canthus
  std::optional<UncertainLength> iris;                // horizontal visible iris diameter
  std::optional<UncertainLength> distance_pd;         // pupil distance, eyes at infinity
  std::optional<UncertainLength> outer_corner_depth;  // behind the corneal plane
  std::optional<UncertainLength> inner_corner_depth;  // behind the corneal plane
  // Whether glasses were on while these lengths were measured: then they are what the lenses show.
  // Absent: nobody said; they count as measured without.
  std::optional<bool> measured_with_glasses;
  std::optional<Glasses> glasses;  // absent: nothing is known of any, and none count as worn
};

// Another scale of the same person: what is known of the glasses stays. with_glasses: whether they
// were on while it was measured; absent: nobody said.
[[nodiscard]] inline FaceScale NewScale(const FaceScale& before, FaceScale measured,
                                        std::optional<bool> with_glasses) {
  measured.glasses = before.glasses;
  measured.measured_with_glasses = with_glasses;
  return measured;
}

// The printed card against the size that it should have.
struct PrintScale {
  double width = 1;   // printed size by what it should be: 0.94 is a print at 94 %
  double height = 1;  // along the card's short side
  double sd = 0;      // relative, of each
};

// The target on the far side of the card that the patient brings to the nose.
struct HeldCardSetup {
  // Card frame (vision/card/card_pattern.h, kCardTargetX and kCardTargetY): 5 mm under the upper
  // edge, so that the camera sees the eyes over it, and on the back of a sheet of paper that is
  // glued around an old card, 1 mm thick in all.
  Eigen::Vector3d target_in_card_mm{0, -22, 1.0};
  // What the measured distance reads too much, from a touch of the bridge of the nose; absent:
  // never touched.
  std::optional<UncertainLength> zero;
};

struct Profile {
  CameraIntrinsics camera;
  FaceScale face;
  Eigen::Vector3d target_mm = Eigen::Vector3d::Zero();  // target point in the camera frame
  Length target_sd;                                     // one standard deviation of each coordinate
  Time lag{};                                           // from percept to key press
  Time lag_sd{};
  // Set: the card is brought to the face. Absent: the patient leans toward a target that stays.
  std::optional<HeldCardSetup> held_card;
  // As measured; counts only together with made.print. Read it through print_scale.h.
  std::optional<PrintScale> print;
  ProfileOrigins made;
};

}  // namespace nearpoint
