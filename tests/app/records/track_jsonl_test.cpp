#include "app/records/track_jsonl.h"

#include <gmock/gmock.h>

#include <limits>
#include <nlohmann/json.hpp>

namespace nearpoint {
namespace {

using nlohmann::json;

DistanceSample Full() {
  DistanceSample sample;
  sample.frame = 7;
  sample.time = FromMilliseconds(233.3);
  sample.mode = TrackMode::kFace;
  sample.eye_mid_mm = Eigen::Vector3d(1.5, -2.25, 300);
  sample.distance = UncertainLength{Length::Millimeters(301.125), Length::Millimeters(0.5)};
  EyeSample eye;
  eye.iris_px = Eigen::Vector2d(640.5, 360.25);
  eye.iris_major_px = 40;
  eye.rotation = EyeRotation{Angle::Degrees(5), Angle::Degrees(-1), Angle::Degrees(0.25)};
  sample.left_eye = eye;
  eye.rotation.reset();
  sample.right_eye = eye;
  sample.vergence = Angle::Degrees(11.5);
  sample.vergence_sd = Angle::Degrees(0.5);
  sample.demand = Angle::Degrees(12);
  sample.head = HeadAngles{Angle::Degrees(1), Angle::Degrees(2), Angle::Degrees(-3)};
  return sample;
}

TEST(TrackLineTest, HasEveryFieldOfTheContract) {
  const std::string line = TrackLine(Full());
  EXPECT_EQ(line.find('\n'), std::string::npos);
  EXPECT_EQ(json::parse(line),
            json::parse(R"({"schema": "nearpoint/track/1", "frame": 7, "t_ms": 233.3,
      "mode": "face", "eye_mid_mm": [1.5, -2.25, 300.0], "distance_mm": 301.125, "distance_sd_mm": 0.5, "distance_shared_sd_mm": null, "regime_difference_mm": null,
      "left_eye": {"iris_px": [640.5, 360.25], "iris_major_px": 40.0, "rotation_deg": [5.0, -1.0],
                   "rotation_sd_deg": 0.25},
      "right_eye": {"iris_px": [640.5, 360.25], "iris_major_px": 40.0, "rotation_deg": null,
                    "rotation_sd_deg": null},
      "vergence_deg": 11.5, "vergence_sd_deg": 0.5, "vergence_shared_sd_deg": null, "demand_deg": 12.0, "head_deg": [1.0, 2.0, -3.0],
      "why": null})"));
}

TEST(TrackLineTest, SaysThePowersOfGlassesOnlyWhereTheyAreWorn) {
  EXPECT_FALSE(json::parse(TrackLine(Full())).contains("glasses"));
  DistanceSample sample = Full();
  sample.left_lens = LensEstimate{-3.25, 0.5};
  sample.right_lens = LensEstimate{-2.5, 0.75};
  EXPECT_EQ(json::parse(TrackLine(sample))["glasses"],
            json::parse(R"({"left": {"power": -3.25, "power_sd": 0.5},
                            "right": {"power": -2.5, "power_sd": 0.75}})"));
}

TEST(TrackLineTest, SaysNullWhereNothingIsKnown) {
  DistanceSample sample;
  sample.mode = TrackMode::kLost;
  sample.why = LostReason::kEyesClosed;
  EXPECT_EQ(json::parse(TrackLine(sample)),
            json::parse(R"({"schema": "nearpoint/track/1", "frame": 0, "t_ms": 0.0, "mode": "lost",
      "eye_mid_mm": null, "distance_mm": null, "distance_sd_mm": null, "distance_shared_sd_mm": null, "regime_difference_mm": null, "left_eye": null, "right_eye": null,
      "vergence_deg": null, "vergence_sd_deg": null, "vergence_shared_sd_deg": null, "demand_deg": null, "head_deg": null,
      "why": "eyes closed"})"));
  sample.mode = TrackMode::kEyes;
  EXPECT_EQ(json::parse(TrackLine(sample))["mode"], "eyes");
}

TEST(TrackLineTest, NeverWritesWhatIsNotANumber) {
  for (const double bad :
       {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
        -std::numeric_limits<double>::infinity()}) {
    DistanceSample sample = Full();
    sample.distance->value = Length::Millimeters(bad);
    sample.eye_mid_mm->x() = bad;
    sample.vergence = Angle::Radians(bad);
    sample.left_eye->iris_major_px = bad;
    const json line = json::parse(TrackLine(sample));  // NaN would not parse
    EXPECT_TRUE(line["distance_mm"].is_null());
    EXPECT_TRUE(line["eye_mid_mm"][0].is_null());
    EXPECT_TRUE(line["vergence_deg"].is_null());
    EXPECT_TRUE(line["left_eye"]["iris_major_px"].is_null());
    EXPECT_EQ(line["distance_sd_mm"], 0.5);
  }
}

}  // namespace
}  // namespace nearpoint
