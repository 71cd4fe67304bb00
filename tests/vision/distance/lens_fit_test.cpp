// The fit of a head whose eyes are seen through spectacle lenses.
#include <gmock/gmock.h>

#include <Eigen/Cholesky>
#include <cmath>
#include <numbers>
#include <random>

#include "vision/distance/eye_turn.h"
#include "vision/distance/head_fit.h"

namespace nearpoint {
namespace {

const Eigen::Vector3d kTarget(0, 20, 0);

CameraIntrinsics Camera() {
  CameraIntrinsics camera;
  camera.width = 1280;
  camera.height = 720;
  camera.fx = camera.fy = 1004.6;
  camera.cx = 639.5;
  camera.cy = 359.5;
  camera.focal_rel_sd = 0.003;
  return camera;
}

FaceScale Face() {
  const auto mm = [](double v, double sd) {
    return UncertainLength{Length::Millimeters(v), Length::Millimeters(sd)};
  };
  FaceScale face;
  face.outer_corners = mm(84.9, 0.8);
  face.inner_corners = mm(35.1, 0.5);
  face.iris = mm(11.7, 0.15);
  face.distance_pd = mm(62, 0.5);
  face.outer_corner_depth = mm(9.9, 1.5);
  face.inner_corner_depth = mm(4.4, 1.5);
  return face;
}

FaceScale Wearing(std::optional<double> left, std::optional<double> right) {
  FaceScale face = Face();
  Glasses glasses;
  glasses.worn = true;
  const auto lens = [](std::optional<double> power) -> std::optional<LensPrescription> {
    if (!power) return std::nullopt;
    LensPrescription out;
    out.sphere.value = Diopters::Of(*power);
    return out;
  };
  glasses.left = lens(left);
  glasses.right = lens(right);
  face.glasses = glasses;
  return face;
}

IrisMeasurement Exactly(const PredictedIris& iris) {
  constexpr double kSd = 0.05;
  return {iris.centre_px, iris.semi_major_px,
          Eigen::Vector3d(kSd * kSd, 4 * kSd * kSd, kSd * kSd).asDiagonal()};
}

HeadPose At(double depth) {
  HeadPose pose;
  pose.mid_in_camera_mm = {4, -3, depth};
  return pose;
}

// What the camera sees of a person whose lengths are exactly `truth`.
HeadObservation See(const HeadPose& pose, const PersonalVector& truth, bool landmarks) {
  HeadObservation o;
  o.left_iris = Exactly(*PredictIris(pose, truth, Camera(), kTarget, true));
  o.right_iris = Exactly(*PredictIris(pose, truth, Camera(), kTarget, false));
  for (std::size_t i = 0; landmarks && i < kRigidLandmarks.size(); ++i) {
    const Eigen::Vector3d p =
        CameraFromHead(pose) * LandmarkInHeadMm(truth, static_cast<int>(i)) + pose.mid_in_camera_mm;
    o.landmarks[i] = LandmarkMeasurement{ProjectPoint(Camera(), p), 1.0};
  }
  return o;
}

PosePrior Near(const HeadPose& pose) {
  PosePrior prior;
  prior.mean.mid_in_camera_mm = 1.05 * pose.mid_in_camera_mm;
  return prior;
}

double DemandDeg(const HeadPose& pose, const PersonalVector& truth) {
  double sum = 0;
  for (const bool left : {true, false}) {
    const Eigen::Vector3d aim = AimInHead(pose, truth, kTarget, left);
    sum += (left ? -1 : 1) * std::atan2(aim.x(), aim.z());
  }
  return sum * 180 / std::numbers::pi;
}

TEST(LensFit, KnownUnequalLensesCostNothing) {
  const HeadModel model = MakeHeadModel(Wearing(-6, -2));
  for (const double depth : {60.0, 100.0, 250.0}) {
    const HeadPose pose = At(depth);
    const auto fit =
        FitHead(See(pose, model.mean, depth > 140), Camera(), kTarget, model, Near(pose));
    ASSERT_TRUE(fit) << depth;
    EXPECT_NEAR((fit->pose.mid_in_camera_mm - pose.mid_in_camera_mm).norm(), 0, 0.02) << depth;
    const EyeTurns turns = EyeTurnsOf(*fit, model, kTarget);
    EXPECT_NEAR(turns.vergence.deg(), DemandDeg(pose, model.mean), 0.02) << depth;
    EXPECT_NEAR(turns.demand.deg(), DemandDeg(pose, model.mean), 0.02) << depth;
  }
}

// What the lenses do to a fit that knows nothing of them: 5.5 % too far at -4 dioptres.
TEST(LensFit, LensesThatNobodySaidReadTooFar) {
  const PersonalVector truth = MakeHeadModel(Wearing(-4, -4)).mean;
  const HeadPose pose = At(70);
  const HeadModel none = MakeHeadModel(Face());
  const auto fit = FitHead(See(pose, truth, false), Camera(), kTarget, none, Near(pose));
  ASSERT_TRUE(fit);
  EXPECT_GT(fit->pose.mid_in_camera_mm.z(), 1.03 * 70);
}

// Size against distance between the irises tells the power, as far as the personal scale is known.
TEST(LensFit, LearnsAnUnknownPowerFromEyesOnTheTarget) {
  for (const double power : {-8.0, -3.0, 0.0, 4.0}) {
    PersonalVector truth = MakeHeadModel(Wearing(power, power)).mean;
    HeadModel model = MakeHeadModel(Wearing(std::nullopt, std::nullopt));
    const HeadPose pose = At(300);
    PosePrior prior = Near(pose);
    prior.eye_out_sd_rad = 0.02;
    const auto fit = FitHead(See(pose, truth, true), Camera(), kTarget, model, prior);
    ASSERT_TRUE(fit) << power;
    const double sd = std::sqrt(fit->covariance(kPoseCount + kLeftLens, kPoseCount + kLeftLens));
    EXPECT_LT(sd, 1.8) << power;
    EXPECT_NEAR(fit->personal(kLeftLens), power, sd) << power;
    EXPECT_NEAR(fit->pose.mid_in_camera_mm.z(), 300, 9) << power;
  }
}

// People drawn from what is said of them, eyes within what counts as fixating: how often distance
// and vergence lie within two stated deviations, and how large the distance's is.
struct Honesty {
  double distance_share = 0, vergence_share = 0, mean_sd_mm = 0;
};
Honesty Drawn(const FaceScale& face, double depth) {
  Profile profile;
  profile.camera = Camera();
  profile.camera.focal_rel_sd = 0;
  profile.target_mm = kTarget;
  const HeadModel model = MakeHeadModel(face);
  const PersonalMatrix spread = model.covariance.llt().matrixL();
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal;
  constexpr int kPeople = 200;
  int near = 0, turned = 0;
  Honesty out;
  for (int i = 0; i < kPeople; ++i) {
    PersonalVector draw;
    for (double& x : draw) x = normal(random);
    const PersonalVector truth = model.mean + spread * draw;
    HeadPose pose = At(depth);
    pose.left_out_rad = 0.05 * normal(random);
    pose.right_out_rad = 0.05 * normal(random);
    const auto fit = FitHead(See(pose, truth, false), Camera(), kTarget, model, Near(pose));
    if (!fit) continue;
    const auto distance = DistanceToTarget(*fit, model, profile);
    const double mm = distance.value.mm() - (pose.mid_in_camera_mm - kTarget).norm();
    const double sd = std::hypot(distance.measured_sd.mm(), distance.shared_sd.mm());
    near += std::abs(mm) <= 2 * sd;
    const EyeTurns turns = EyeTurnsOf(*fit, model, kTarget);
    const double is =
        DemandDeg(pose, truth) - (pose.left_out_rad + pose.right_out_rad) * 180 / std::numbers::pi;
    const double turn_sd =
        std::hypot(turns.vergence_sd.measured.deg(), turns.vergence_sd.shared.deg());
    turned += std::abs(turns.vergence.deg() - is) <= 2 * turn_sd;
    out.mean_sd_mm += sd / kPeople;
  }
  out.distance_share = static_cast<double>(near) / kPeople;
  out.vergence_share = static_cast<double>(turned) / kPeople;
  return out;
}

TEST(LensFit, StatesWhatALensCouldDo) {
  const Honesty known = Drawn(Wearing(-5, -5), 80),
                unknown = Drawn(Wearing(std::nullopt, std::nullopt), 80);
  for (const Honesty& h : {known, unknown}) {
    EXPECT_GE(h.distance_share, 0.93);
    EXPECT_GE(h.vergence_share, 0.93);
  }
  // The distance between the eyes goes on telling the distance.
  EXPECT_GT(unknown.mean_sd_mm, known.mean_sd_mm);
}

// The shift that one deviation of power makes is what the fit answers to another power.
TEST(LensFit, SaysWhatAnotherPowerWouldMakeOfTheVergence) {
  const PersonalVector truth = MakeHeadModel(Wearing(-3, -3)).mean;
  const HeadPose pose = At(90);
  const HeadObservation seen = See(pose, truth, false);
  const auto behind = [&](double power, double* shift, double* sd) {
    FaceScale face = Wearing(power, power);
    face.glasses->left->sphere.sd = face.glasses->right->sphere.sd = Diopters::Of(0.5);
    const HeadModel model = MakeHeadModel(face);
    const auto fit = FitHead(seen, Camera(), kTarget, model, Near(pose));
    EXPECT_TRUE(fit);
    const EyeTurns turns = EyeTurnsOf(*fit, model, kTarget);
    *shift = turns.lens_shift.deg();
    *sd = fit->personal(kLeftLens);
    return turns.vergence.deg() - turns.demand.deg();
  };
  double shift = 0, at = 0, other_shift = 0, other_at = 0;
  const double here = behind(-3, &shift, &at);
  const double there = behind(-4, &other_shift, &other_at);
  EXPECT_LT(shift, -1);  // more plus: the irises are believed smaller, so nearer and less turned
  // Half a dioptre and the lens's shape together are one deviation, of the mean of two lenses.
  const double deviation = std::hypot(0.5, 0.3) / std::sqrt(2.0);
  EXPECT_NEAR((here - there) / (at - other_at), shift / deviation,
              0.1 * std::abs(shift / deviation));
}

// A scale that was measured through lenses holds the iris that they show.
TEST(LensFit, FreesAScaleThatWasMeasuredThroughTheLenses) {
  const PersonalVector truth = MakeHeadModel(Wearing(-4, -4)).mean;
  FaceScale through = Wearing(-4, -4);
  through.measured_with_glasses = true;
  const auto seen = [](std::optional<UncertainLength>* length, double mm) {
    (*length)->value = Length::Millimeters(mm);
  };
  const Eigen::Vector3d outer = LandmarkInHeadMm(truth, 3), inner = LandmarkInHeadMm(truth, 2);
  seen(&through.iris, 11.7 * SizeThroughLens(-4, 14.64));
  seen(&through.outer_corners, 2 * outer.x());
  seen(&through.outer_corner_depth, -outer.z());
  seen(&through.inner_corners, 2 * inner.x());
  seen(&through.inner_corner_depth, -inner.z());
  const HeadModel model = MakeHeadModel(through);
  EXPECT_NEAR(model.mean(kIris), 11.7, 0.01);
  EXPECT_NEAR(model.mean(kOuterWidth), 84.9, 0.05);
  EXPECT_NEAR(model.mean(kInnerDepth), 4.4, 0.05);

  // Of glasses whose power nobody knows the size is known all the same; without them it is not.
  FaceScale unknown = through;
  unknown.glasses->left.reset();
  unknown.glasses->right.reset();
  const HeadModel on = MakeHeadModel(unknown);
  EXPECT_GT(std::sqrt(on.covariance(kIris, kIris)), 0.4);
  const HeadPose pose = At(80);
  const auto fit = FitHead(See(pose, truth, false), Camera(), kTarget, on, Near(pose));
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->pose.mid_in_camera_mm.z(), 80, 1.2);
  unknown.glasses->worn = false;
  const HeadModel off = MakeHeadModel(unknown);
  EXPECT_NEAR(std::sqrt(off.covariance(kLeftLens, kLeftLens)), kPinnedSd, 1e-9);
  EXPECT_GT(std::sqrt(off.covariance(kIris, kIris)), 0.4);
}

}  // namespace
}  // namespace nearpoint
