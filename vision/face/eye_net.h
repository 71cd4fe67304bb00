// Eyes at every distance, found and read by two small convolutional networks that were trained on
// drawn heads alone; see models/README.md. What they say is where to look, how far to trust it and
// what the lids do; what is measured is the limbus (vision/eyes/limbus_fit.h).
#pragma once

#include <Eigen/Core>
#include <array>
#include <memory>
#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "vision/core/result.h"
#include "vision/eyes/limbus_fit.h"

namespace nearpoint {

// An eye somewhere in a picture: the middle between its corners, radius of its iris, pixels.
struct FoundEye {
  Eigen::Vector2d middle_px;
  double iris_radius_px = 0;
  double logit = 0;  // log odds, of the network's own judgement, that an eye is there
};

// Two eyes that may be those of one head: alike in size, apart by what heads allow.
struct FoundPair {
  FoundEye image_left;  // the patient's right eye (pictures are not mirrored)
  FoundEye image_right;
  [[nodiscard]] double Logit() const { return std::min(image_left.logit, image_right.logit); }
};

inline constexpr int kLidColumns = 7;

// One eye, from a window about where it should be. Pixels of the whole picture.
struct EyeReading {
  double present = 0;  // log odds that this is an eye, open or shut
  double open = 0;     // log odds that the lids leave something of the iris to be seen
  Eigen::Vector2d iris_px = Eigen::Vector2d::Zero();  // middle of the limbus
  double iris_radius_px = 0;                          // its semi-major axis
  double place_sd_px = 0;              // of each coordinate of iris_px, as the network judges it
  double size_relative_sd = 0;         // of iris_radius_px
  Eigen::Vector2d inner_px, outer_px;  // corners
  // The margins of the lids at equal steps between the corners, inner to outer.
  std::array<Eigen::Vector2d, kLidColumns> upper_px, lower_px;
  double aperture = 0;     // largest opening over the diameter of the iris
  double limbus_seen = 0;  // share of the limbus that the lids leave free, 0..1
};

// Where the lids leave the eye free. A copy of what a reading says, to ask about single points.
class LidOpening : public EyeOpening {
 public:
  explicit LidOpening(const EyeReading& reading);
  [[nodiscard]] double Inside(const Eigen::Vector2d& px) const override;

 private:
  Eigen::Vector2d inner_, along_, down_;
  double length_ = 0;
  std::array<double, kLidColumns + 2> upper_{}, lower_{};
};

class EyeNet {
 public:
  // Errors: kNotFound, kUnreadable.
  [[nodiscard]] static Result<EyeNet> Load(const std::string& finder_file,
                                           const std::string& reader_file);
  EyeNet(EyeNet&&) noexcept;
  EyeNet& operator=(EyeNet&&) noexcept;
  ~EyeNet();

  // Pairs of eyes in a picture (8-bit BGR) of which nothing is known, likeliest first, at most
  // `most`. The iris must have a radius of about 1.2 to 14 hundredths of the picture's width.
  [[nodiscard]] std::vector<FoundPair> Find(const cv::Mat& bgr, int most = 3) const;

  // What is to be seen where an eye is expected. left: the patient's left eye. eye_line_rad:
  // direction in the picture of the line through both eyes, as the image's x axis turns toward y.
  // Always answers; middle and radius may be off by half an iris and a third.
  [[nodiscard]] EyeReading Read(const cv::Mat& bgr, const Eigen::Vector2d& middle_px,
                                double iris_radius_px, double eye_line_rad, bool left) const;

 private:
  struct Impl;
  explicit EyeNet(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace nearpoint
