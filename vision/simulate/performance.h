// The motion of the simulated patient as a function of time: head, eyes and lids, from the seed
// alone.
#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <vector>

#include "vision/simulate/card_pose.h"
#include "vision/simulate/patient.h"
#include "vision/simulate/random.h"

namespace nearpoint::simulate {

// Centre of rotation behind the corneal apex, and the limbus plane in front of the centre of
// rotation. The first is the usual value of lens design; the second follows from a limbus 2.64 mm
// behind the apex.
inline constexpr double kApexMm = 13.5;
inline constexpr double kLimbusMm = 10.86;

inline constexpr int kLeft = 0;
inline constexpr int kRight = 1;
[[nodiscard]] constexpr double SideSign(int eye) { return eye == kLeft ? 1 : -1; }

struct PatientState {
  Eigen::Matrix3d camera_from_head;
  Eigen::Vector3d eye_mid_mm;  // camera frame; the origin of the head frame
  double distance_mm = 0;
  std::array<Eigen::Vector3d, 2> centre_mm;  // of rotation, camera frame
  std::array<Eigen::Vector3d, 2> gaze;       // camera frame, unit
  std::array<double, 2> drift_rad{};
  double vergence_rad = 0;
  double lids_closed = 0;
  Eigen::Vector3d target_mm;  // what the eyes look at, camera frame
  std::optional<CardPose> card;
};

// Sum of the horizontal rotations toward the nose of two gaze directions given in the head frame.
[[nodiscard]] double VergenceRad(const Eigen::Vector3d& left_in_head,
                                 const Eigen::Vector3d& right_in_head);

class Performance {
 public:
  explicit Performance(const PatientOptions& options);  // options are valid
  [[nodiscard]] const Script& script() const { return script_; }
  [[nodiscard]] PatientState At(Time time) const;
  // The patient at rest in front of the lens: distance from the target, head turned as given, lids
  // open, no jitter. With a card in touch with the nose the distance is not used.
  [[nodiscard]] static PatientState Posed(const PatientOptions& options, Length distance, Angle yaw,
                                          Angle pitch, Angle roll, Angle left_drift = {},
                                          Angle right_drift = {});

 private:
  struct Plan;
  static void Rest(const PatientOptions& options, std::optional<CardInHead>* card,
                   std::optional<CardTouch>* touch);
  [[nodiscard]] CardPose InHand(const Eigen::Vector3d& target, double t) const;
  void Perform(int trial, Random& random);
  void Append(double distance_mm);

  PatientOptions options_;
  std::optional<CardInHead> card_;  // on the face
  std::optional<CardTouch> touch_;
  Script script_;
  std::vector<float> distance_mm_;  // every kStep
  std::vector<float> drift_rad_;
  std::vector<double> blinks_s_;     // starts
  std::vector<SmoothNoise> sway_;    // yaw, pitch, roll, x, y
  std::vector<SmoothNoise> jitter_;  // shared horizontal, shared vertical, left and right alone
  std::vector<SmoothNoise> hand_;    // turns of a held card
  SmoothNoise pace_;
};

}  // namespace nearpoint::simulate
