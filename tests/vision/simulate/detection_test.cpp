// The simulated patient must look like a face to a detector and a landmark model that were made
// from photographs.
#include <dlib/image_processing.h>
#include <dlib/image_processing/frontal_face_detector.h>
#include <dlib/opencv/cv_image.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "vision/simulate/projection.h"
#include "vision/simulate/studio.h"

namespace nearpoint::simulate {
namespace {

constexpr const char* kModel = "/usr/share/dlib/shape_predictor_68_face_landmarks.dat";

PatientOptions Person(int number) {
  PatientOptions options;
  options.optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  Appearance& a = options.appearance;
  a.texture_seed = static_cast<std::uint64_t>(number + 1);
  a.skin_tone = std::array{0.1, 0.35, 0.6, 0.85, 0.3, 0.5}[static_cast<std::size_t>(number)];
  a.iris_tone = std::array{0.05, 0.4, 0.8, 1.0, 0.6, 0.2}[static_cast<std::size_t>(number)];
  a.head_scale = std::array{1.0, 1.05, 0.95, 1.0, 0.87, 1.0}[static_cast<std::size_t>(number)];
  a.distance_pd = Length::Millimeters(62 * a.head_scale);
  a.glasses = number == 5;
  options.light.side = number == 1 ? 0.6 : 0;
  options.light.level = number == 2 ? 0.15 : 1;
  return options;
}

double Median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values.empty() ? -1 : values[values.size() / 2];
}

TEST(SimulateDetection, FaceDetectorAndLandmarksWorkAsOnPhotographs) {
  if (!std::filesystem::exists(kModel)) GTEST_SKIP() << "no landmark model on this machine";
  dlib::frontal_face_detector detector = dlib::get_frontal_face_detector();
  dlib::shape_predictor predictor;
  dlib::deserialize(kModel) >> predictor;
  int faces = 0;
  int pictures = 0;
  std::vector<double> at_400;
  for (int number = 0; number < 6; ++number) {
    const PatientOptions options = Person(number);
    Studio studio(options);
    const Eigen::Vector3d outer = studio.renderer().shape().OuterCorner();
    const Eigen::Vector3d inner = studio.renderer().shape().InnerCorner();
    for (const double distance : {250.0, 300.0, 400.0, 500.0, 600.0}) {
      for (const double yaw : {-7.0, 0.0, 7.0}) {
        const PatientState state =
            Performance::Posed(options, Length::Millimeters(distance), Angle::Degrees(yaw),
                               Angle::Degrees(-0.5 * yaw), Angle::Degrees(0.4 * yaw));
        const cv::Mat bgr = studio.TakeStill(pictures, state);
        ++pictures;
        cv::Mat grey;
        cv::cvtColor(bgr, grey, cv::COLOR_BGR2GRAY);
        const dlib::cv_image<unsigned char> image(grey);
        const auto found = detector(image);
        std::cout << "person " << number << " at " << distance << " mm, yaw " << yaw << ": "
                  << found.size() << " face(s)";
        if (!found.empty()) {
          ++faces;
          const auto shape = predictor(image, found[0]);
          // 36 and 39: outer and inner corner of the patient's right eye; 42 and 45: of the left.
          const std::array<std::pair<unsigned long, Eigen::Vector3d>, 4> corners{
              {{36, {-outer.x(), outer.y(), outer.z()}},
               {39, {-inner.x(), inner.y(), inner.z()}},
               {42, inner},
               {45, outer}}};
          std::cout << ", corner errors (px)";
          for (const auto& [index, in_head] : corners) {
            const Eigen::Vector2d truth =
                Project(options.optics.camera, state.camera_from_head * in_head + state.eye_mid_mm);
            const auto& part = shape.part(index);
            const double dx = static_cast<double>(part.x()) - truth.x();
            const double dy = static_cast<double>(part.y()) - truth.y();
            std::cout << " (" << dx << ", " << dy << ")";
            if (distance == 400) at_400.push_back(std::hypot(dx, dy));
          }
        }
        std::cout << "\n";
      }
    }
  }
  std::cout << "faces found in " << faces << " of " << pictures
            << " pictures; median corner error at 400 mm " << Median(at_400) << " px\n";
  EXPECT_GE(faces, 0.95 * pictures);
  ASSERT_FALSE(at_400.empty());
  EXPECT_LE(Median(at_400), 4.0);
}

}  // namespace
}  // namespace nearpoint::simulate
