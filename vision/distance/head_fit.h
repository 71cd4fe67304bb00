// From what the picture shows of a head to where the head and the target are, with the covariance
// of the answer.
//
// All rulers are weighed in one least-squares problem: sizes and places of the two irises, the
// distances between the rigid landmarks, and what is known of the person beforehand. Each counts
// with its own variance, so a ruler that is absent, coarse or biased in a regime simply weighs less
// there. The eyes may turn freely (the prior on their turn away from the target is wide), hence
// vergence does not leak into distance: the iris size and the landmarks carry it.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>

#include "calibration/profile.h"
#include "vision/core/units.h"
#include "vision/distance/head_model.h"

namespace nearpoint {

// One limbus as seen: ellipse centre and semi-major axis in the captured (distorted) picture, and
// their covariance.
struct IrisMeasurement {
  Eigen::Vector2d centre_px;
  double semi_major_px = 0;
  Eigen::Matrix3d covariance_px2;  // centre x, centre y, semi-major
  // The shape that the limbus was measured with, as LogWidth along the eye line, and how the three
  // numbers above answer to it: arcs left and right measure a width, which is a semi-major axis
  // only together with how far the eye is turned. Zero: the semi-major axis was measured as such.
  double eye_line_rad = 0;
  double log_width = 0;
  Eigen::Vector3d per_log_width = Eigen::Vector3d::Zero();
};

struct LandmarkMeasurement {
  Eigen::Vector2d position_px;
  double sd_px = 0;  // one standard deviation of each coordinate
};

// A point of skin that is followed: fixed in the head, seen at position_px.
struct AnchorMeasurement {
  Eigen::Vector3d point_in_head_mm;
  Eigen::Vector2d position_px;
  Eigen::Vector2d sd_px;
};

struct HeadObservation {
  std::optional<IrisMeasurement> left_iris, right_iris;
  std::array<std::optional<LandmarkMeasurement>, kRigidLandmarks.size()> landmarks;
  std::optional<AnchorMeasurement> anchor;
};

// Pose and eyes in one frame.
struct HeadPose {
  double yaw_rad = 0, pitch_rad = 0, roll_rad = 0;  // see HeadAngles in distance_sample.h
  Eigen::Vector3d mid_in_camera_mm{0, 0, 400};      // corneal midpoint
  // Turn of each eye away from the target: outward and up, radians.
  double left_out_rad = 0, left_up_rad = 0, right_out_rad = 0, right_up_rad = 0;
};
inline constexpr int kPoseCount = 10;
inline constexpr int kStateCount = kPoseCount + kPersonalCount;

// Prior knowledge of the pose: from the frames before, or wide.
struct PosePrior {
  HeadPose mean;
  double turn_sd_rad = 0.2;  // yaw and pitch
  double roll_sd_rad = 0.3;
  double position_sd_mm = 1e4;
  double eye_out_sd_rad = 0.14;  // one eye may drift by 8 degrees without being pulled
  double eye_up_sd_rad = 0.07;
  // Where both eyes together are known to look beside the target: toward the patient's left, and
  // up.
  double gaze_left_rad = 0, gaze_up_rad = 0;
};

struct HeadFit {
  HeadPose pose;
  PersonalVector personal;
  Eigen::Matrix<double, kStateCount, kStateCount>
      covariance;   // pose in the order of HeadPose, then personal lengths
  double chi2 = 0;  // weighted squared residuals of the measurements, priors left out
  double cost = 0;  // the same with the priors: what was minimised
  int measurements = 0;
  double left_iris_chi2 = 0;  // of three residuals each
  double right_iris_chi2 = 0;
  double landmark_chi2 = 0;
  double eye_out_sd_rad = 0;  // of the prior that was used
};

// Rotation that takes head coordinates to camera coordinates.
[[nodiscard]] Eigen::Matrix3d CameraFromHead(const HeadPose& pose);

// Direction of sight of one eye in the camera frame, and its centre of rotation.
struct EyeInCamera {
  Eigen::Vector3d centre_of_rotation_mm;
  Eigen::Vector3d gaze;
};
[[nodiscard]] EyeInCamera EyeOf(const HeadPose& pose, const PersonalVector& personal,
                                const Eigen::Vector3d& target_mm, bool left);

// Unit direction, in the head frame, in which an eye sees the target: toward the image of it that
// its lens makes.
[[nodiscard]] Eigen::Vector3d AimInHead(const HeadPose& pose, const PersonalVector& personal,
                                        const Eigen::Vector3d& target_mm, bool left);

// The limbus ellipse that a camera would capture, through the lens before the eye; nullopt when it
// is not in front of the lens.
struct PredictedIris {
  Eigen::Vector2d centre_px;
  double semi_major_px = 0;
  double aspect = 1;
  double angle_rad = 0;
};
[[nodiscard]] std::optional<PredictedIris> PredictIris(const HeadPose& pose,
                                                       const PersonalVector& personal,
                                                       const CameraIntrinsics& camera,
                                                       const Eigen::Vector3d& target_mm, bool left);

// A point of the camera frame in the captured picture.
[[nodiscard]] Eigen::Vector2d ProjectPoint(const CameraIntrinsics& camera,
                                           const Eigen::Vector3d& point_mm);

// nullopt when there is no measurement, or the geometry is singular or runs behind the lens.
[[nodiscard]] std::optional<HeadFit> FitHead(const HeadObservation& observation,
                                             const CameraIntrinsics& camera,
                                             const Eigen::Vector3d& target_mm,
                                             const HeadModel& model, const PosePrior& prior);

// Variance of a quantity computed from the fitted state, in its own unit squared.
struct VarianceParts {
  double frame = 0;   // what this frame's picture leaves open
  double shared = 0;  // from the personal lengths as they are known now: every frame until they are
                      // known better shares it
};
// gradient: of the quantity by every state of the fit. model: the one that the fit was made with.
// The prior lets an eye turn away from the target as far as a drifting eye does; in the variance
// the eyes count as fixating.
[[nodiscard]] VarianceParts VarianceOf(const Eigen::Matrix<double, kStateCount, 1>& gradient,
                                       const HeadFit& fit, const HeadModel& model);

// Target point to corneal midpoint. `measured_sd`: what this frame's picture leaves open.
// `shared_sd`: what is wrong alike in every frame of this person with this profile: personal
// lengths as the profile and the landmark model know them, focal length, target place, corneal
// offset; propagated through the same fit. It does not average out.
struct TargetDistance {
  Length value;
  Length measured_sd;
  Length shared_sd;
};
// What the size of the irises and the lenses before them leave open of every distance from the
// camera, as a fraction.
[[nodiscard]] double RelativeScaleSd(const HeadModel& model);

// model: the one that the fit was made with.
[[nodiscard]] TargetDistance DistanceToTarget(const HeadFit& fit, const HeadModel& model,
                                              const Profile& profile);

}  // namespace nearpoint
