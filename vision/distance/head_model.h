// The geometry of one head as far as the tracker needs it: lengths that belong to the person, with
// their uncertainty.
//
// Head frame: origin at the midpoint of the two corneal apices (eyes straight ahead), x to the
// patient's left, y up, z out of the face. Millimetres.
#pragma once

#include <Eigen/Core>
#include <array>

#include "calibration/profile.h"
#include "vision/distance/spectacle_lens.h"

namespace nearpoint {

// From the corneal apex back. Centre of rotation 13.5 mm: design value of ophthalmic optics, 13 to
// 14 in use (lens design handbooks; Fry and Hill 1962 give 14.8, from memory). The limbus plane
// lies 2.6 mm behind the apex: anterior chamber depth to the iris plane less corneal thickness,
// Gullstrand's schematic eye (from memory).
inline constexpr double kCentreOfRotationDepthMm = 13.5;
inline constexpr double kLimbusDepthMm = 2.64;
inline constexpr double kLimbusFromCentreMm = kCentreOfRotationDepthMm - kLimbusDepthMm;
// One standard deviation of the corneal apex's place in front of the limbus, between people.
inline constexpr double kCornealOffsetSdMm = 0.3;

// Landmarks used as rigid points, by their number in the 68-point scheme.
inline constexpr std::array<int, 8> kRigidLandmarks = {36, 39, 42, 45, 27, 28, 29, 30};

// Order of the personal lengths in a vector.
enum PersonalIndex : int {
  kIris = 0,    // visible iris diameter
  kPd,          // distance pupil distance
  kOuterWidth,  // between the outer corners, as the landmark model marks them
  kInnerWidth,
  kOuterDepth,  // behind the corneal plane
  kInnerDepth,
  kOuterHeight,  // above the corneal midpoint
  kInnerHeight,
  kBridge0Height,  // landmarks 27 to 30 in turn: height and depth (negative: in front of the
                   // corneal plane)
  kBridge0Depth,
  kBridge1Height,
  kBridge1Depth,
  kBridge2Height,
  kBridge2Depth,
  kBridge3Height,
  kBridge3Depth,
  // The spectacle lenses. Power along the eye line, dioptres; distance from the corneal plane;
  // optical centres outward of straight ahead and above; prism, radians, base out positive.
  kLeftLens,
  kRightLens,
  kVertex,
  kLensOut,
  kLensUp,
  kLeftPrism,
  kRightPrism,
  kPersonalCount
};

inline constexpr int kLensFirst = kLeftLens;
inline constexpr int kLensCount = kPersonalCount - kLensFirst;
// A value of a lens that is known to this deviation or better is not asked of the pictures.
inline constexpr double kPinnedSd = 1e-3;

using PersonalVector = Eigen::Matrix<double, kPersonalCount, 1>;
using PersonalMatrix = Eigen::Matrix<double, kPersonalCount, kPersonalCount>;

struct HeadModel {
  PersonalVector mean;
  PersonalMatrix covariance;
};

// A value of a lens that the pictures are not asked for.
[[nodiscard]] inline bool IsPinned(const HeadModel& model, int index) {
  return model.covariance(index, index) <= 1.0001 * kPinnedSd * kPinnedSd;
}

// The model before the first frame: the profile's lengths, population values where they are absent,
// widened by what the landmark model and a real canthus differ from each other. Of the lenses what
// LensPriorOf says; a scale that was measured through them is freed of what they do to it.
[[nodiscard]] HeadModel MakeHeadModel(const FaceScale& face);

// The lens before one eye, in the head frame.
[[nodiscard]] SpectacleLens LensOf(const PersonalVector& personal, bool left);

// A rigid landmark (index into kRigidLandmarks) in the head frame: corners as the lens shows them.
[[nodiscard]] Eigen::Vector3d LandmarkInHeadMm(const PersonalVector& personal, int index);

}  // namespace nearpoint
