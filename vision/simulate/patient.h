// The simulated patient: who it is, how it behaves, and what the camera sees. All random behaviour
// comes from the seed.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "calibration/profile.h"
#include "vision/camera/frame_source.h"
#include "vision/simulate/card_prop.h"
#include "vision/simulate/spectacles.h"
#include "vision/simulate/truth.h"

namespace nearpoint::simulate {

struct Appearance {
  double head_scale = 1;  // 0.85 (a child) .. 1.1
  Length distance_pd = Length::Millimeters(62);
  Length iris = Length::Millimeters(11.7);
  double skin_tone = 0.3;                // 0 very light .. 1 very dark
  double iris_tone = 0.5;                // 0 pale .. 1 dark brown
  bool glasses = false;                  // a frame without power
  std::optional<Spectacles> spectacles;  // lenses with power, in a frame of their own
  std::uint64_t texture_seed = 1;        // freckles, iris fibres, brow hairs, the room
};

struct Light {
  double level = 1;  // 1 a bright room .. 0.05 the screen as the only light
  double side = 0;   // -1 all from image left .. 1 all from image right
  double noise_sd =
      1.5;  // sensor noise in 8-bit steps at full light; grows as the gain rises in dim light
};

struct Optics {
  CameraIntrinsics camera;
  Length aperture = Length::Millimeters(0);  // diameter; 0: no defocus
  Length focus = Length::Millimeters(500);   // a fixed-focus lens
  double exposure_fraction = 0.5;            // of the frame time; motion blur
};

struct Behaviour {
  int trials = 5;
  Length start = Length::Millimeters(400);
  Length nearest = Length::Millimeters(50);  // turns back here when still single
  Speed approach = Speed::MillimetersPerSecond(15);
  Speed withdrawal = Speed::MillimetersPerSecond(20);
  Length break_mean = Length::Millimeters(80);  // of the first trial; target to corneal midpoint
  Length recovery_mean = Length::Millimeters(110);
  Length between_trial_sd = Length::Millimeters(4);
  Length recession_per_trial;       // tires
  Angle drift = Angle::Degrees(8);  // outward turn after the break
  bool left_eye_drifts = true;
  bool fusion_holds = false;  // never breaks
  bool reports = true;        // false: says nothing although an eye drifts
  Time lag = FromMilliseconds(320);
  Time lag_sd = FromMilliseconds(60);
  double blinks_per_minute = 12;
  double sway = 1;  // 0 none .. 3 restless: head turns and shifts
  double frames_per_second = 30;
  Time hold{};  // waits this long at `start` before the first trial
  Angle turn;   // turns the head slowly from side to side, this far each way
  Time turn_period = std::chrono::seconds(4);
};

struct PatientOptions {
  Appearance appearance;
  Light light;
  Optics optics;
  Behaviour behaviour;
  Eigen::Vector3d target_mm{0, 20, 0};
  // With a held card the head stays at the prop's face_distance, the eyes look at the card's
  // target, and every distance of the behaviour is from there; target_mm is not used.
  std::optional<CardProp> card;
  std::uint64_t seed = 1;
};

enum class ReportKind { kTrialStart, kDouble, kSingle, kNoDouble, kTrialEnd };
struct Report {
  Time time;
  ReportKind kind;
};

struct TrialTruth {
  bool broke = false;
  Time break_time{}, recovery_time{};
  Length break_distance, recovery_distance;  // where fusion was really lost and regained
};

// What the patient will do, known before any picture is drawn: motion and events from the seed
// alone.
struct Script {
  std::vector<Report> reports;
  std::vector<TrialTruth> trials;
  std::int64_t frame_count = 0;
  Length true_break;  // break_mean, and its recession, averaged over the trials: what an estimate
                      // should recover
  Length true_recovery;
};
[[nodiscard]] Script MakeScript(const PatientOptions& options);

// The true personal profile of this patient: exact lengths, with the deviations a good card
// calibration would state.
[[nodiscard]] Profile TrueProfile(const PatientOptions& options);

// A camera with the given horizontal field of view and no distortion.
[[nodiscard]] CameraIntrinsics PinholeCamera(int width, int height, Angle horizontal_field);

// The patient as a frame source. truth may be empty.
[[nodiscard]] Result<std::unique_ptr<FrameSource>> MakePatient(const PatientOptions& options,
                                                               TruthSink truth = {});

}  // namespace nearpoint::simulate
