// Spectacles of the simulated patient: the law of the lens, and that pictures and truth keep it.
#include "vision/simulate/spectacles.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "vision/simulate/studio.h"

namespace nearpoint::simulate {
namespace {

Spectacles Both(double sphere) {
  Spectacles s;
  s.left.sphere = s.right.sphere = sphere;
  s.upward = {};
  s.rim = {};
  s.mirrors = 0;
  return s;
}

PatientOptions Person(const std::optional<Spectacles>& spectacles) {
  PatientOptions options;
  options.optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  options.light.noise_sd = 0;
  options.appearance.spectacles = spectacles;
  return options;
}

PatientState At(const PatientOptions& options, double mm) {
  return Performance::Posed(options, Length::Millimeters(mm), {}, {}, {});
}

// 1 / (1 - F s), 14.64 mm behind the lens plane, worked by hand.
TEST(Spectacles, ShowAThingSmallerBehindMinusAndLargerBehindPlus) {
  const Eigen::Vector3d camera(0, 0, 300);
  for (const auto& [sphere, share] :
       {std::pair{-2.0, 0.9716}, {-4.0, 0.9447}, {-6.0, 0.9193}, {3.0, 1.0459}}) {
    const LensBeforeEye lens(Both(sphere), 62, 1);
    const Eigen::Vector3d a = lens.Apparent(camera, {25, 0, -2.64});
    const Eigen::Vector3d b = lens.Apparent(camera, {37, 0, -2.64});
    EXPECT_NEAR((b - a).norm() / 12, share, 5e-4) << sphere;
  }
}

// Which ray meets a point may be asked from either end, whatever the lens is.
TEST(Spectacles, ARayFromTheCameraMeetsThePointThatIsSeenThere) {
  Spectacles s = Both(-3);
  s.left.cylinder = -2;
  s.left.axis = Angle::Degrees(30);
  s.left.base_out = 2;
  s.tilt = Angle::Degrees(8);
  for (const double addition : {0.0, 2.0}) {
    s.addition = addition;
    const LensBeforeEye lens(s, 62, 1);
    const Eigen::Vector3d camera(4, -20, 90);
    for (const Eigen::Vector3d& point : {Eigen::Vector3d(27, 2, -3), Eigen::Vector3d(35, -9, -4)}) {
      const Eigen::Vector3d seen = lens.Apparent(camera, point);
      const auto ray = lens.Behind(camera, (seen - camera).normalized());
      const Eigen::Vector3d off = (point - ray.origin).cross(ray.direction);
      EXPECT_NEAR(off.norm(), 0, addition == 0 ? 1e-9 : 0.02) << addition;
      EXPECT_GT((seen - point).norm(), 0.05);
    }
  }
}

TEST(Spectacles, ACylinderWorksAcrossItsAxis) {
  Spectacles s = Both(0);
  s.left.cylinder = -4;
  s.left.axis = Angle::Degrees(90);
  const LensBeforeEye lens(s, 62, 1);
  const Eigen::Vector3d camera(31, 0, 300);
  const auto size = [&](const Eigen::Vector3d& half) {
    const Eigen::Vector3d middle(31, 0, -2.64);
    const Eigen::Vector3d a = lens.Apparent(camera, middle - half) - camera;
    const Eigen::Vector3d b = lens.Apparent(camera, middle + half) - camera;
    return (a / a.z() - b / b.z()).norm() * 302.64 / (2 * half.norm());
  };
  EXPECT_NEAR(size({0, 5, 0}), 1, 1e-3);
  // From a camera 288 mm before the lens the size in the picture is less than that of the image by
  // how much nearer the image is.
  EXPECT_NEAR(size({5, 0, 0}), 302.64 / (14.64 + 288 * (1 + 0.004 * 14.64)), 1e-3);
}

// The truth is that of the eye: it turns in less behind minus, and the limbus is where the picture
// shows it.
TEST(Spectacles, TheTruthIsThatOfTheEyeBehindTheLens) {
  const PatientOptions none = Person(std::nullopt), minus = Person(Both(-5)),
                       plus = Person(Both(4));
  const double without = At(none, 80).vergence_rad;
  EXPECT_LT(At(minus, 80).vergence_rad, without - 0.03);
  EXPECT_GT(At(plus, 80).vergence_rad, without + 0.02);
  EXPECT_EQ(At(minus, 80).eye_mid_mm, At(none, 80).eye_mid_mm);
  const Renderer plain(none), through(minus);
  const EyeTruth a = plain.Truth(At(none, 200), kLeft), b = through.Truth(At(minus, 200), kLeft);
  EXPECT_NEAR(b.limbus_major_px / a.limbus_major_px, 0.935, 0.006);
}

// Where the green light rises fastest, going from the middle of the iris to one side.
double EdgePx(const cv::Mat& bgr, const Eigen::Vector2d& middle, double radius, int side) {
  const auto light = [&](double x) {
    double sum = 0;
    for (int dy = -2; dy <= 2; ++dy) {
      const int y = static_cast<int>(std::lround(middle.y())) + dy;
      const int i = static_cast<int>(std::floor(x));
      const double part = x - i;
      sum += (1 - part) * bgr.at<cv::Vec3b>(y, i)[1] + part * bgr.at<cv::Vec3b>(y, i + 1)[1];
    }
    return sum;
  };
  double best = 0, weighted = 0, weights = 0;
  for (double r = 0.8 * radius; r < 1.2 * radius; r += 0.1) {
    const double rise =
        std::max(0.0, light(middle.x() + side * (r + 1)) - light(middle.x() + side * (r - 1)));
    best = std::max(best, rise);
    weighted += rise * rise * rise * r;
    weights += rise * rise * rise;
  }
  return best > 0 ? weighted / weights : 0;
}

TEST(Spectacles, ThePictureShowsTheLimbusWhereTheTruthSays) {
  const auto widths = [](const std::optional<Spectacles>& spectacles, double* truth_px) {
    const PatientOptions options = Person(spectacles);
    Studio studio(options);
    const PatientState state = At(options, 140);
    const cv::Mat picture = studio.TakeStill(0, state);
    const EyeTruth truth = studio.Truth(0, {}, state).left_eye;
    *truth_px = truth.limbus_major_px;
    const double radius = truth.limbus_major_px / 2;
    return EdgePx(picture, truth.limbus_centre_px, radius, 1) +
           EdgePx(picture, truth.limbus_centre_px, radius, -1);
  };
  double plain_truth = 0, minus_truth = 0, plus_truth = 0;
  const double plain = widths(std::nullopt, &plain_truth);
  const double minus = widths(Both(-6), &minus_truth);
  const double plus = widths(Both(4), &plus_truth);
  EXPECT_LT(minus_truth, 0.95 * plain_truth);
  EXPECT_NEAR(minus / plain, minus_truth / plain_truth, 0.012);
  EXPECT_NEAR(plus / plain, plus_truth / plain_truth, 0.012);
}

TEST(Spectacles, LensesMirrorTheScreenAndTheFrameIsDrawn) {
  Spectacles s = Both(0);
  const PatientOptions clear = Person(s);
  s.mirrors = 0.08;
  s.rim = Length::Millimeters(3);
  const PatientOptions shiny = Person(s);
  const PatientState state = At(clear, 120);
  Studio one(clear), other(shiny);
  const cv::Mat a = one.TakeStill(0, state), b = other.TakeStill(0, state);
  int brighter = 0, darker = 0;
  for (int y = 0; y < a.rows; ++y) {
    for (int x = 0; x < a.cols; ++x) {
      const int change = b.at<cv::Vec3b>(y, x)[1] - a.at<cv::Vec3b>(y, x)[1];
      brighter += change > 8;
      darker += change < -40;
    }
  }
  EXPECT_GT(brighter, 2000);
  EXPECT_GT(darker, 2000);
}

}  // namespace
}  // namespace nearpoint::simulate
