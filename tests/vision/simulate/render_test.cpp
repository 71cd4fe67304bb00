// The pictures show what the truth says.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "vision/simulate/light_scale.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/studio.h"

namespace nearpoint::simulate {
namespace {

PatientOptions Person() {
  PatientOptions options;
  options.optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  options.light.noise_sd = 0;
  return options;
}

// The light of the green channel, 1 for white: the coding of the sensor undone.
cv::Mat GreenLight(const cv::Mat& bgr) {
  cv::Mat light(bgr.size(), CV_32F);
  for (int y = 0; y < bgr.rows; ++y) {
    for (int x = 0; x < bgr.cols; ++x) {
      light.at<float>(y, x) = static_cast<float>(SrgbLinear(bgr.at<cv::Vec3b>(y, x)[1] / 255.0));
    }
  }
  return light;
}

double Sample(const cv::Mat& grey, const Eigen::Vector2d& px) {
  const int x = static_cast<int>(std::floor(px.x()));
  const int y = static_cast<int>(std::floor(px.y()));
  const double a = px.x() - x;
  const double b = px.y() - y;
  const auto at = [&](int i, int j) { return static_cast<double>(grey.at<float>(j, i)); };
  return (1 - b) * ((1 - a) * at(x, y) + a * at(x + 1, y)) +
         b * ((1 - a) * at(x, y + 1) + a * at(x + 1, y + 1));
}

// Error in pixels of the drawn limbus: where the mean profile across the edge, over an arc of the
// iris on one side, passes half way in linear light between the dark ring of the iris and the
// white, against the projection of the true circle. The lids shade the eye, so the light changes
// across the edge: the profile is taken as a part of the white, whose run is a line through what
// lies outside.
double EdgeError(const PatientOptions& options, const Studio& studio, const cv::Mat& grey,
                 const PatientState& state, int eye, double side) {
  const auto e = static_cast<std::size_t>(eye);
  const double radius = options.appearance.iris.mm() / 2;
  const Eigen::Vector3d limbus = state.centre_mm[e] + kLimbusMm * state.gaze[e];
  const Eigen::Vector3d across =
      (-Eigen::Vector3d::UnitY()).cross(state.gaze[e]).normalized();  // right in the image
  const Eigen::Vector3d upward = state.gaze[e].cross(across).normalized();
  const double px_per_mm = options.optics.camera.fx / limbus.z();
  // The whole transition, and how far the lens smears it.
  const double reach = studio.renderer().eyeball().transition_mm() / 2 + 1.2 / px_per_mm;
  const auto light_at = [&](double r) {
    constexpr int kArc = 21;
    constexpr int kMiddle = kArc / 2;
    double sum = 0;
    for (int k = 0; k < kArc; ++k) {
      const double angle = (k - kMiddle) * 1.2 * std::numbers::pi / 180;
      const Eigen::Vector3d point =
          limbus + r * (side * std::cos(angle) * across + std::sin(angle) * upward);
      sum += Sample(grey, Project(options.optics.camera, point)) / kArc;
    }
    return sum;
  };
  constexpr int kWhiteSteps = 40;
  constexpr double kWhiteMm = 0.8;
  Eigen::Matrix<double, kWhiteSteps, 2> rows;
  Eigen::Matrix<double, kWhiteSteps, 1> lit;
  for (int i = 0; i < kWhiteSteps; ++i) {
    const double out = reach + kWhiteMm * i / kWhiteSteps;
    rows.row(i) << 1, out;
    lit[i] = light_at(radius + out);
  }
  const Eigen::Vector2d white = rows.colPivHouseholderQr().solve(lit);
  constexpr int kSteps = 200;
  std::array<double, kSteps + 1> profile{};
  for (int i = 0; i <= kSteps; ++i) {
    const double out = reach * (2.0 * i / kSteps - 1);
    profile[static_cast<std::size_t>(i)] = light_at(radius + out) / (white[0] + white[1] * out);
  }
  const double half = (profile.front() + 1) / 2;
  for (std::size_t i = 0; i < kSteps; ++i) {
    if (profile[i] < half && profile[i + 1] >= half) {
      const double at =
          static_cast<double>(i) + (half - profile[i]) / (profile[i + 1] - profile[i]);
      return reach * (2 * at / kSteps - 1) * px_per_mm;
    }
  }
  return 1e3;
}

struct EdgeCase {
  double distance_mm, iris_tone, yaw_deg;
};
class SimulateLimbus : public testing::TestWithParam<EdgeCase> {};

TEST_P(SimulateLimbus, IsDrawnWhereTheTruthSays) {
  PatientOptions options = Person();
  options.appearance.iris_tone = GetParam().iris_tone;
  options.optics.camera.distortion = {-0.08, 0.02, 0.001, -0.0005, 0};
  Studio studio(options);
  const PatientState state =
      Performance::Posed(options, Length::Millimeters(GetParam().distance_mm),
                         Angle::Degrees(GetParam().yaw_deg), {}, {});
  const cv::Mat bgr = studio.TakeStill(0, state);
  const cv::Mat green = GreenLight(bgr);
  for (const int eye : {kLeft, kRight}) {
    const double outer = EdgeError(options, studio, green, state, eye, SideSign(eye));
    std::cout << "edge error at the temple side " << outer << " px\n";
    EXPECT_NEAR(outer, 0, 0.1);
    // Where the eye turns toward the nose, flesh and the shade of the corner lie beside the nasal
    // edge: no flat white.
    if (GetParam().distance_mm < 200 || GetParam().yaw_deg != 0) continue;
    const double inner = EdgeError(options, studio, green, state, eye, -SideSign(eye));
    std::cout << "edge error at the nasal side " << inner << " px\n";
    EXPECT_NEAR(inner, 0, 0.1);
  }
}
INSTANTIATE_TEST_SUITE_P(Distances, SimulateLimbus,
                         testing::Values(EdgeCase{400, 0.5, 0}, EdgeCase{400, 1, 6},
                                         EdgeCase{250, 0.1, 0}, EdgeCase{150, 0.9, -4},
                                         EdgeCase{100, 0.5, 0}, EdgeCase{70, 0.2, 0}));

TEST(SimulateTruth, LimbusIsTheProjectionOfTheCircle) {
  const PatientOptions options = Person();
  const Studio studio(options);
  const PatientState state =
      Performance::Posed(options, Length::Millimeters(80), {}, {}, {}, Angle::Degrees(8));
  const FrameTruth truth = studio.Truth(7, FromMilliseconds(5), state);
  EXPECT_EQ(truth.frame, 7);
  const Eigen::Vector3d limbus = truth.left_eye.centre_of_rotation_mm + 10.86 * truth.left_eye.gaze;
  EXPECT_NEAR(truth.left_eye.limbus_centre_px.x(),
              options.optics.camera.fx * limbus.x() / limbus.z() + 639.5, 1e-9);
  EXPECT_NEAR(truth.left_eye.limbus_centre_px.y(),
              options.optics.camera.fy * limbus.y() / limbus.z() + 359.5, 1e-9);
  EXPECT_NEAR(truth.left_eye.drift.deg(), 8, 1e-9);
  EXPECT_EQ(truth.right_eye.drift.deg(), 0);
  EXPECT_NEAR(truth.distance.mm(), (truth.eye_mid_mm - options.target_mm).norm(), 1e-9);
  EXPECT_GT(truth.left_eye.limbus_major_px, 0.95 * 11.7 * options.optics.camera.fx / limbus.z());
  EXPECT_LT(truth.left_eye.limbus_major_px, 1.15 * 11.7 * options.optics.camera.fx / limbus.z());
}

TEST(SimulateTruth, LidsHideTheLimbusAndABlinkHidesAll) {
  const PatientOptions options = Person();
  Studio studio(options);
  PatientState state = Performance::Posed(options, Length::Millimeters(300), {}, {}, {});
  const double open = studio.Truth(0, {}, state).left_eye.visible;
  EXPECT_GT(open, 0.5);
  EXPECT_LT(open, 0.95);
  const cv::Mat open_picture = studio.TakeStill(0, state);
  state.lids_closed = 1;
  EXPECT_EQ(studio.Truth(0, {}, state).left_eye.visible, 0);
  const cv::Mat shut_picture = studio.TakeStill(0, state);
  // Where the pupil was there is skin.
  const Eigen::Vector2d px = studio.Truth(0, {}, state).left_eye.limbus_centre_px;
  const cv::Point at(static_cast<int>(std::lround(px.x())), static_cast<int>(std::lround(px.y())));
  EXPECT_LT(open_picture.at<cv::Vec3b>(at)[2], 70);
  EXPECT_GT(shut_picture.at<cv::Vec3b>(at)[2], 100);
}

TEST(SimulateTruth, ProfileStatesTheHeadAsDrawn) {
  PatientOptions options = Person();
  options.appearance.head_scale = 0.9;
  options.appearance.distance_pd = Length::Millimeters(55);
  const Profile profile = TrueProfile(options);
  EXPECT_NEAR(profile.face.outer_corners->value.mm(), 85 * 0.9, 1e-9);
  EXPECT_NEAR(profile.face.inner_corners->value.mm(), 35 * 0.9, 1e-9);
  EXPECT_NEAR(profile.face.outer_corner_depth->value.mm(), 9 * 0.9, 1e-9);
  EXPECT_NEAR(profile.face.inner_corner_depth->value.mm(), 4.4 * 0.9, 1e-9);
  EXPECT_NEAR(profile.face.distance_pd->value.mm(), 55, 1e-9);
  EXPECT_NEAR(profile.face.iris->value.mm(), 11.7, 1e-9);
  // The skin passes through the corners, and the two lids meet there.
  const HeadShape shape(options.appearance);
  EXPECT_NEAR(shape.Height(shape.OuterCorner().x(), shape.OuterCorner().y()),
              shape.OuterCorner().z(), 1e-9);
  EXPECT_NEAR(shape.Height(shape.InnerCorner().x(), shape.InnerCorner().y()),
              shape.InnerCorner().z(), 1e-9);
  EXPECT_NEAR(shape.UpperMargin(1, {}), shape.OuterCorner().y(), 1e-9);
  EXPECT_NEAR(shape.LowerMargin(0, {}), shape.InnerCorner().y(), 1e-9);
  EXPECT_GT(shape.UpperMargin(0.5, {}) - shape.LowerMargin(0.5, {}), 8);
}

double NoiseOf(double level) {
  PatientOptions options = Person();
  options.light.level = level;
  options.light.noise_sd = 1.5;
  Studio studio(options);
  const PatientState state = Performance::Posed(options, Length::Millimeters(600), {}, {}, {});
  const cv::Mat a = studio.TakeStill(1, state);
  const cv::Mat b = studio.Take(2, state, state, state, 0);
  cv::Mat difference;
  cv::subtract(a, b, difference, {}, CV_32F);
  cv::Scalar mean;
  cv::Scalar sd;
  cv::meanStdDev(difference(cv::Rect(500, 100, 280, 400)), mean, sd);
  return sd[1] / std::sqrt(2.0);
}

TEST(SimulateSensor, NoiseGrowsAsTheLightFalls) {
  const double bright = NoiseOf(1);
  const double dim = NoiseOf(0.1);
  std::cout << "noise " << bright << " at full light, " << dim << " at a tenth\n";
  EXPECT_GT(bright, 1.3);
  EXPECT_LT(bright, 3.5);
  EXPECT_GT(dim, 1.8 * bright);
}

TEST(SimulateSensor, ExposureFollowsTheLight) {
  const auto mean_of = [](double level) {
    PatientOptions options = Person();
    options.light.level = level;
    Studio studio(options);
    return cv::mean(
        studio.TakeStill(0, Performance::Posed(options, Length::Millimeters(300), {}, {}, {})))[1];
  };
  const double full = mean_of(1);
  EXPECT_NEAR(mean_of(0.3), full, 12);
  EXPECT_GT(full, 80);
  EXPECT_LT(full, 150);
}

TEST(SimulateSensor, BlurCircleOfAThinLens) {
  Optics optics;
  optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  optics.aperture = Length::Millimeters(1.2);
  optics.focus = Length::Millimeters(500);
  // computed: 1004.599 * 1.2 * (1/60 - 1/500)
  EXPECT_NEAR(BlurCirclePx(optics, Length::Millimeters(60)), 17.681, 0.001);
  EXPECT_EQ(BlurCirclePx(optics, Length::Millimeters(500)), 0);
}

// The variance of a blurred line is that of a disc and the base blur together: (c/4)^2 + 0.6^2.
TEST(SimulateSensor, BlurHasTheWidthOfItsDisc) {
  for (const double circle : {0.0, 2.0, 6.0, 7.5, 8.0, 12.0, 18.0, 30.0}) {
    cv::Mat line = cv::Mat::zeros(122, 122, CV_16UC3);
    line.col(60).setTo(cv::Scalar::all(60000));
    line.col(61).setTo(cv::Scalar::all(60000));
    BlurLikeLens(circle, line);
    double sum = 0;
    double mean = 0;
    double square = 0;
    for (int x = 0; x < line.cols; ++x) {
      const double v = line.at<cv::Vec3w>(60, x)[1];
      sum += v;
      mean += v * (x - 60.5);
      square += v * (x - 60.5) * (x - 60.5);
    }
    EXPECT_NEAR(sum, 2 * 60000, 60) << circle;  // no light is lost
    EXPECT_NEAR(mean / sum, 0, 0.02) << circle;
    const double variance = square / sum - 0.25;  // the two columns' own variance
    EXPECT_NEAR(std::sqrt(std::max(0.0, variance)), std::hypot(0.6, circle / 4), 0.05) << circle;
  }
}

// A disc that is wide against the base blur has the line spread of a half ellipse: half of the
// light within 0.404 of the radius (computed: where u sqrt(1 - u^2) + asin(u) is a quarter of pi).
TEST(SimulateSensor, BlurHasTheFlatTopOfItsDisc) {
  cv::Mat edge = cv::Mat::zeros(64, 120, CV_16UC3);
  edge.colRange(60, 120).setTo(cv::Scalar::all(40000));
  constexpr double kCircle = 24;
  BlurLikeLens(kCircle, edge);
  const auto at = [&](double level) {
    for (int x = 0; x + 1 < edge.cols; ++x) {
      const double low = edge.at<cv::Vec3w>(32, x)[0];
      const double high = edge.at<cv::Vec3w>(32, x + 1)[0];
      if (low < level && high >= level) return x + (level - low) / (high - low);
    }
    return -1.0;
  };
  EXPECT_NEAR((at(30000) - at(10000)) / 2, 0.404 * kCircle / 2, 0.1);
  EXPECT_NEAR(at(20000), 59.5, 0.02);
}

TEST(SimulateSensor, CodesLightAsSrgb) {
  // IEC 61966-2-1: the straight part ends at 0.0031308, code 0.04045.
  EXPECT_NEAR(SrgbCode(0.0031308), 0.04045, 1e-6);
  EXPECT_NEAR(SrgbLinear(0.04045), 0.0031308, 1e-7);
  EXPECT_NEAR(255 * SrgbCode(0.5), 187.516, 0.001);  // computed
  EXPECT_NEAR(SrgbLinear(0.5), 0.214041, 1e-6);      // computed
  cv::Mat light(1, 256, CV_16UC3);
  for (int i = 0; i < 256; ++i) {
    light.at<cv::Vec3w>(0, i) =
        cv::Vec3w::all(cv::saturate_cast<ushort>(kWhite * SrgbLinear(i / 255.0)));
  }
  const cv::Mat bgr = Sensor(256, 1).Read(light, 0, 0);
  for (int i = 0; i < 256; ++i) EXPECT_EQ(bgr.at<cv::Vec3b>(0, i)[1], i);
  light.setTo(cv::Scalar::all(65535));
  EXPECT_EQ(Sensor(256, 1).Read(light, 0, 0).at<cv::Vec3b>(0, 9)[2], 255);
}

TEST(SimulateSensor, NoiseHasTheDeviationAskedFor) {
  const cv::Mat light(400, 640, CV_16UC3, cv::Scalar::all(kWhite / 4.0));
  const Sensor sensor(640, 3);
  for (const double deviation : {1.0, 2.5, 7.0}) {
    cv::Scalar mean;
    cv::Scalar sd;
    cv::meanStdDev(sensor.Read(light, deviation, 4), mean, sd);
    // computed: 255 times the code of 1/4; rounding to whole steps adds the variance 1/12.
    EXPECT_NEAR(mean[1], 136.96, 0.1);
    EXPECT_NEAR(sd[1], std::sqrt(deviation * deviation + 1.0 / 12), 0.02 * deviation);
  }
}

// Optics act on light: between a black and a white field the blur passes 1/2 in light, which is
// the code 188 and not 128.
TEST(SimulateSensor, BlurMixesLightAndNotCodes) {
  cv::Mat light = cv::Mat::zeros(32, 65, CV_16UC3);
  light.colRange(33, 65).setTo(cv::Scalar::all(kWhite));
  light.col(32).setTo(cv::Scalar::all(kWhite / 2.0));
  BlurLikeLens(3, light);
  const cv::Mat bgr = Sensor(65, 1).Read(light, 0, 0);
  EXPECT_NEAR(bgr.at<cv::Vec3b>(16, 32)[1], 188, 1);
}

TEST(SimulateSensor, MotionKeepsLightAndPlaceAndHasTheSmearsWidth) {
  const PatientOptions options = Person();
  const PatientState middle = Performance::Posed(options, Length::Millimeters(400), {}, {}, {});
  PatientState opening = middle;
  PatientState closing = middle;
  const double mm_per_px = middle.eye_mid_mm.z() / options.optics.camera.fx;
  constexpr double kHalfPx = 5;
  opening.eye_mid_mm.x() -= kHalfPx * mm_per_px;
  closing.eye_mid_mm.x() += kHalfPx * mm_per_px;
  cv::Mat line = cv::Mat::zeros(720, 1280, CV_16UC3);
  line.col(640).setTo(cv::Scalar::all(60000));
  EXPECT_EQ(BlurByMotion(options.optics.camera, opening, middle, closing, line), 0);
  double sum = 0;
  double mean = 0;
  double square = 0;
  for (int x = 0; x < line.cols; ++x) {
    const double v = line.at<cv::Vec3w>(360, x)[2];
    sum += v;
    mean += v * (x - 640);
    square += v * (x - 640) * (x - 640);
  }
  EXPECT_NEAR(sum, 60000, 100);
  EXPECT_NEAR(mean / sum, 0, 0.01);
  // An even smear has the variance half_length^2 / 3; sampling between two pixels adds up to 1/4.
  EXPECT_GT(square / sum, kHalfPx * kHalfPx / 3 - 0.02);
  EXPECT_LT(square / sum, kHalfPx * kHalfPx / 3 + 0.27);
}

TEST(SimulateRenderer, ExposureGainMultipliesTheLight) {
  const PatientOptions options = Person();
  Renderer renderer(options);
  const PatientState state = Performance::Posed(options, Length::Millimeters(150), {}, {}, {});
  cv::Mat once;
  cv::Mat twice;
  renderer.Draw(state, 0.5, once);
  renderer.Draw(state, 1, twice);
  ASSERT_EQ(once.type(), CV_16UC3);
  cv::Mat a;
  cv::Mat b;
  once.convertTo(a, CV_32F, 2);
  twice.convertTo(b, CV_32F);
  // Rounding each: at most 1.5 steps of 16384, and overlays are blended in rounded steps.
  EXPECT_LE(cv::norm(a, b, cv::NORM_INF), 4);
}

TEST(SimulateSource, GivesEveryFrameOnceAndTheSameForTheSameSeed) {
  PatientOptions options = Person();
  options.optics.camera = PinholeCamera(320, 180, Angle::Degrees(65));
  options.light.noise_sd = 1.5;
  options.behaviour.trials = 1;
  options.behaviour.start = Length::Millimeters(200);
  options.behaviour.approach = options.behaviour.withdrawal = Speed::MillimetersPerSecond(100);
  options.behaviour.frames_per_second = 10;
  std::vector<FrameTruth> truths;
  auto one = MakePatient(options, [&](const FrameTruth& truth) { truths.push_back(truth); });
  auto two = MakePatient(options);
  ASSERT_TRUE(one && two);
  EXPECT_FALSE((*one)->info().live);
  std::int64_t count = 0;
  while (true) {
    const auto a = (*one)->Next();
    const auto b = (*two)->Next();
    ASSERT_TRUE(a && b);
    if (!*a) {
      EXPECT_FALSE(*b);
      break;
    }
    ASSERT_EQ((*a)->index(), count);
    ASSERT_EQ(truths.size(), static_cast<std::size_t>(count + 1));
    EXPECT_EQ(truths.back().time, (*a)->time());
    ASSERT_EQ((*a)->bgr().size(), cv::Size(320, 180));
    cv::Mat difference;
    cv::absdiff((*a)->bgr(), (*b)->bgr(), difference);
    EXPECT_EQ(cv::countNonZero(difference.reshape(1)), 0);
    ++count;
  }
  EXPECT_EQ((*one)->info().frame_count, count);
  EXPECT_EQ(MakeScript(options).frame_count, count);
  EXPECT_FALSE((*one)->Next()->has_value());
}

}  // namespace
}  // namespace nearpoint::simulate
