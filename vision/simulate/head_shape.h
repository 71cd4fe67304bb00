// The shape of the simulated head as formulas: skull, features, lids and eye openings. Head frame
// in millimetres: origin between the corneal apices of eyes that look straight ahead, x to the
// patient's left, y up, z out of the face.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "vision/simulate/patient.h"

namespace nearpoint::simulate {

// Where the lids stand: the openings of both eyes are mirror images.
struct Lids {
  double gaze_up_rad = 0;
  double closed = 0;  // 0 open .. 1 shut
};

// Distances into the opening at one point of the lid surface, millimetres; negative outside.
struct LidDistance {
  double below_upper = 0;
  double above_lower = 0;
  double along = 0;  // 0 at the inner corner, 1 at the outer
};

class HeadShape {
 public:
  explicit HeadShape(const Appearance& appearance);

  // Skin in front of the head, closed lids included, at |x| less than HalfWidth(y).
  [[nodiscard]] double Height(double x, double y) const;
  // Height near the eyes from a table; abs_x is the same for both eyes.
  [[nodiscard]] double LidHeight(double abs_x, double y) const;
  // Point of the head's surface at an azimuth (radians, 0 in front, positive to the patient's left)
  // and height.
  [[nodiscard]] Eigen::Vector3d Surface(double azimuth, double y) const;
  [[nodiscard]] double HalfWidth(double y) const;
  // 0 bare skin .. 1 hair.
  [[nodiscard]] double Hair(double azimuth, double y) const;

  // Upper and lower lid margins at `along` (0 inner corner .. 1 outer corner): y in the head frame.
  [[nodiscard]] double UpperMargin(double along, const Lids& lids) const;
  [[nodiscard]] double LowerMargin(double along, const Lids& lids) const;
  [[nodiscard]] double AlongToX(double along) const;  // of the left eye
  [[nodiscard]] double Crease(double along) const;    // y of the upper lid's fold

  // Corners of the left eye; the right eye's have -x.
  [[nodiscard]] Eigen::Vector3d OuterCorner() const { return outer_corner_; }
  [[nodiscard]] Eigen::Vector3d InnerCorner() const { return inner_corner_; }
  [[nodiscard]] double scale() const { return scale_; }
  [[nodiscard]] double eye_x() const { return eye_x_; }
  [[nodiscard]] double iris_radius() const { return iris_radius_; }

 private:
  [[nodiscard]] double Features(double x, double y) const;  // of a head of scale 1
  [[nodiscard]] double Uncorrected(double x, double y) const;

  double scale_, eye_x_, iris_radius_;
  Eigen::Vector3d outer_corner_, inner_corner_;
  Eigen::Vector2d corner_weight_ = Eigen::Vector2d::Zero();
  std::vector<float> lid_height_;
};

// The lid margins of one frame as a table, for a look-up per pixel.
class LidTable {
 public:
  LidTable(const HeadShape& shape, const Lids& lids);
  // abs_x: the x of a point on the lid surface, positive for both eyes.
  [[nodiscard]] LidDistance At(double abs_x, double y) const;

 private:
  struct Entry {
    float upper, upper_cosine, lower, lower_cosine;
  };
  static constexpr int kEntries = 256;
  double inner_x_, width_;
  std::vector<Entry> entries_;
};

}  // namespace nearpoint::simulate
