// Draws the simulated patient to files: single stills with their truth, or a whole session to
// practise on.
#include <CLI/CLI.hpp>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <iomanip>
#include <iostream>
#include <nlohmann/json.hpp>
#include <opencv2/imgcodecs.hpp>
#include <sstream>

#include "vision/card/draw_pattern.h"
#include "vision/simulate/options_check.h"
#include "vision/simulate/patient.h"
#include "vision/simulate/studio.h"

namespace {

using nlohmann::ordered_json;
using namespace nearpoint;            // NOLINT: the whole program is about these
using namespace nearpoint::simulate;  // NOLINT

ordered_json ToJson(const Eigen::Vector3d& v) { return {v.x(), v.y(), v.z()}; }
ordered_json ToJson(const EyeTruth& eye) {
  return {{"centre_of_rotation_mm", ToJson(eye.centre_of_rotation_mm)},
          {"gaze", ToJson(eye.gaze)},
          {"drift_deg", eye.drift.deg()},
          {"limbus_centre_px", {eye.limbus_centre_px.x(), eye.limbus_centre_px.y()}},
          {"limbus_major_px", eye.limbus_major_px},
          {"limbus_visible", eye.visible}};
}
ordered_json ToJson(const CardPose& card) {
  ordered_json rotation = ordered_json::array();
  for (int row = 0; row < 3; ++row) {
    for (int col = 0; col < 3; ++col) rotation.push_back(card.camera_from_card(row, col));
  }
  return {{"rot", rotation}, {"middle_mm", ToJson(card.middle_mm)}};
}
ordered_json ToJson(const FrameTruth& truth, const std::string& file) {
  ordered_json rotation = ordered_json::array();
  for (int row = 0; row < 3; ++row) {
    for (int col = 0; col < 3; ++col) rotation.push_back(truth.camera_from_head(row, col));
  }
  return {{"frame", truth.frame},
          {"t_ms", ToMilliseconds(truth.time)},
          {"file", file},
          {"distance_mm", truth.distance.mm()},
          {"eye_mid_mm", ToJson(truth.eye_mid_mm)},
          {"head_rot", rotation},
          {"vergence_deg", truth.vergence.deg()},
          {"lids_closed", truth.lids_closed},
          {"defocus_px", truth.defocus_px},
          {"left_eye", ToJson(truth.left_eye)},
          {"right_eye", ToJson(truth.right_eye)},
          {"target_mm", ToJson(truth.target_mm)},
          {"card", truth.card ? ToJson(*truth.card) : ordered_json(nullptr)}};
}
ordered_json ToJson(const Profile& profile) {
  const CameraIntrinsics& c = profile.camera;
  ordered_json face;
  const auto put = [&](const std::string& name, const std::optional<UncertainLength>& length) {
    face[name] = length ? ordered_json(length->value.mm()) : ordered_json(nullptr);
    face[name + "_sd"] = length ? ordered_json(length->sd.mm()) : ordered_json(nullptr);
  };
  put("outer_corners_mm", profile.face.outer_corners);
  put("inner_corners_mm", profile.face.inner_corners);
  put("iris_mm", profile.face.iris);
  put("distance_pd_mm", profile.face.distance_pd);
  put("outer_corner_depth_mm", profile.face.outer_corner_depth);
  put("inner_corner_depth_mm", profile.face.inner_corner_depth);
  return {{"schema", "nearpoint/profile/1"},
          {"camera",
           {{"width", c.width},
            {"height", c.height},
            {"fx", c.fx},
            {"fy", c.fy},
            {"cx", c.cx},
            {"cy", c.cy},
            {"distortion", c.distortion},
            {"focal_rel_sd", c.focal_rel_sd}}},
          {"face", face},
          {"target_mm", ToJson(profile.target_mm)},
          {"target_sd_mm", profile.target_sd.mm()},
          {"lag_ms", ToMilliseconds(profile.lag)},
          {"lag_sd_ms", ToMilliseconds(profile.lag_sd)}};
}
const char* EventName(ReportKind kind) {
  switch (kind) {
    case ReportKind::kTrialStart:
      return "trial_start";
    case ReportKind::kDouble:
      return "double";
    case ReportKind::kSingle:
      return "single";
    case ReportKind::kNoDouble:
      return "no_double";
    case ReportKind::kTrialEnd:
      return "trial_end";
  }
  return "";
}

struct Command {
  PatientOptions patient;
  std::filesystem::path out;
  std::vector<double> distances_mm;
  double yaw = 0, pitch = 0, roll = 0, drift = 0, lids = 0;
  bool session = false;
  int quality = 92;
  std::int64_t first = 0;
  std::int64_t count = -1;
};

int Fail(const std::string& message) {
  std::cerr << "nearpoint_render_patient: " << message << "\n";
  return 1;
}

int Stills(const Command& command) {
  Studio studio(command.patient);
  std::ofstream truth_file(command.out / "truth.jsonl");
  std::ofstream frames_file(command.out / "frames.jsonl");
  std::int64_t index = 0;
  for (const double distance : command.distances_mm) {
    PatientState state = Performance::Posed(
        command.patient, Length::Millimeters(distance), Angle::Degrees(command.yaw),
        Angle::Degrees(command.pitch), Angle::Degrees(command.roll), Angle::Degrees(command.drift));
    state.lids_closed = command.lids;
    std::ostringstream name;
    name << "d" << std::setw(3) << std::setfill('0') << static_cast<int>(distance) << ".png";
    if (!cv::imwrite((command.out / name.str()).string(), studio.TakeStill(index, state))) {
      return Fail("could not write " + (command.out / name.str()).string());
    }
    // Stills do not follow each other: ten seconds apart.
    const Time time = FromMilliseconds(10000.0 * static_cast<double>(index));
    truth_file << ToJson(studio.Truth(index, time, state), name.str()) << "\n";
    frames_file << ordered_json{{"file", name.str()}, {"t_ms", ToMilliseconds(time)}} << "\n";
    ++index;
  }
  return truth_file && frames_file ? 0 : Fail("could not write to " + command.out.string());
}

int Session(const Command& command) {
  std::optional<FrameTruth> last;
  auto patient = MakePatient(command.patient, [&](const FrameTruth& truth) { last = truth; });
  if (!patient) return Fail(patient.error().message);
  std::ofstream truth_file(command.out / "truth.jsonl");
  std::ofstream frames_file(command.out / "frames.jsonl");
  std::ofstream events_file(command.out / "events.jsonl");
  const Script script = MakeScript(command.patient);
  for (const Report& report : script.reports) {
    events_file << ordered_json{{"t_ms", ToMilliseconds(report.time)},
                                {"event", EventName(report.kind)}}
                << "\n";
  }
  std::ofstream(command.out / "expected.json") << [&] {
    ordered_json trials = ordered_json::array();
    for (const TrialTruth& trial : script.trials) {
      trials.push_back({{"broke", trial.broke},
                        {"break_ms", ToMilliseconds(trial.break_time)},
                        {"break_mm", trial.break_distance.mm()},
                        {"recovery_ms", ToMilliseconds(trial.recovery_time)},
                        {"recovery_mm", trial.recovery_distance.mm()}});
    }
    return ordered_json{{"true_break_mm", script.true_break.mm()},
                        {"true_recovery_mm", script.true_recovery.mm()},
                        {"trials", trials}}
        .dump(1);
  }() << "\n";
  std::chrono::duration<double, std::milli> drawing{};
  std::int64_t drawn = 0;
  while (command.count < 0 || drawn < command.count) {
    const auto before = std::chrono::steady_clock::now();
    auto frame = (*patient)->Next();
    drawing += std::chrono::steady_clock::now() - before;
    if (!frame) return Fail(frame.error().message);
    if (!*frame) break;
    ++drawn;
    std::ostringstream name;
    name << std::setw(6) << std::setfill('0') << (*frame)->index() << ".jpg";
    if (!cv::imwrite((command.out / name.str()).string(), (*frame)->bgr(),
                     {cv::IMWRITE_JPEG_QUALITY, command.quality})) {
      return Fail("could not write " + (command.out / name.str()).string());
    }
    frames_file << ordered_json{{"file", name.str()}, {"t_ms", ToMilliseconds((*frame)->time())}}
                << "\n";
    if (last) truth_file << ToJson(*last, name.str()) << "\n";
  }
  std::cerr << drawn << " frames, "
            << drawing.count() / static_cast<double>(std::max<std::int64_t>(1, drawn))
            << " ms each\n";
  return truth_file && frames_file && events_file
             ? 0
             : Fail("could not write to " + command.out.string());
}

}  // namespace

int main(int argc, char** argv) {
  Command command;
  PatientOptions& p = command.patient;
  int width = 1280;
  int height = 720;
  double field_deg = 65;
  double pd = 62, iris = 11.7, aperture = 0, focus = 500, start = 400, nearest = 50, approach = 15,
         withdrawal = 20;
  double break_mm = 80, recovery_mm = 110, sd_mm = 4, recession_mm = 0, drift_deg = 8, lag_ms = 320,
         lag_sd_ms = 60;
  std::vector<double> target{0, 20, 0};
  std::vector<double> distortion{0, 0, 0, 0, 0};
  Spectacles worn;
  std::vector<double> left_lens, right_lens;
  double vertex = 12, tilt_deg = 0, rim = 2.2;
  bool right_drifts = false;
  bool silent = false;
  std::string card;
  double gap = 0, bend = 0, turned = 0, tipped = 0, rolled = 0, fingers = 6, glare = 0,
         face_mm = 500, hold_s = 0, turn_deg = 0;
  bool stays = false;

  CLI::App app(
      "Draws the simulated patient: stills as PNG, or a session as JPEG, with the truth as JSON "
      "lines.");
  app.add_option("out", command.out, "folder to write to; made if absent")->required();
  app.add_option("--distances", command.distances_mm, "stills: target to corneal midpoint, mm")
      ->delimiter(',');
  app.add_flag("--session", command.session, "a whole session instead of stills");
  app.add_option("--count", command.count, "session: stop after this many frames");
  app.add_option("--yaw", command.yaw, "stills: head turn to the patient's left, degrees");
  app.add_option("--pitch", command.pitch, "stills: head up, degrees");
  app.add_option("--roll", command.roll, "stills: head toward the left shoulder, degrees");
  app.add_option("--still-drift", command.drift, "stills: left eye turned out, degrees");
  app.add_option("--lids", command.lids, "stills: lids, 0 open .. 1 shut");
  app.add_option("--quality", command.quality, "session: JPEG quality")->check(CLI::Range(1, 100));
  app.add_option("--width", width, "pixels");
  app.add_option("--height", height, "pixels");
  app.add_option("--field", field_deg, "horizontal field of view, degrees")
      ->check(CLI::Range(10.0, 150.0));
  app.add_option("--distortion", distortion, "k1,k2,p1,p2,k3")->delimiter(',')->expected(5);
  app.add_option("--aperture", aperture, "lens aperture, mm; 0 is sharp everywhere");
  app.add_option("--focus", focus, "distance in focus, mm");
  app.add_option("--exposure", p.optics.exposure_fraction, "of the frame time");
  app.add_option("--head-scale", p.appearance.head_scale, "0.85 a child .. 1.1");
  app.add_option("--pd", pd, "pupil distance, mm");
  app.add_option("--iris", iris, "visible iris diameter, mm");
  app.add_option("--skin", p.appearance.skin_tone, "0 light .. 1 dark");
  app.add_option("--iris-tone", p.appearance.iris_tone, "0 pale .. 1 dark brown");
  app.add_flag("--glasses", p.appearance.glasses, "with glasses");
  app.add_option("--left-lens", left_lens, "spectacles: sphere,cylinder,axis,prism base out")
      ->delimiter(',')
      ->expected(1, 4);
  app.add_option("--right-lens", right_lens, "likewise; without it as the left")
      ->delimiter(',')
      ->expected(1, 4);
  app.add_option("--addition", worn.addition, "spectacles: for reading, dioptres");
  app.add_option("--vertex", vertex, "spectacles: lens to cornea, mm");
  app.add_option("--tilt", tilt_deg, "spectacles: lower rim inward, degrees");
  app.add_option("--rim", rim, "spectacles: mm, 0 for rimless");
  app.add_option("--mirrors", worn.mirrors, "spectacles: of the light, 0.01 coated .. 0.08");
  app.add_option("--texture-seed", p.appearance.texture_seed, "skin, iris and room");
  app.add_option("--light", p.light.level, "1 bright room .. 0.05 screen only");
  app.add_option("--side", p.light.side, "-1 from image left .. 1 from image right");
  app.add_option("--noise", p.light.noise_sd, "sensor noise at full light, 8-bit steps");
  app.add_option("--trials", p.behaviour.trials, "number of trials");
  app.add_option("--start", start, "mm");
  app.add_option("--nearest", nearest, "mm");
  app.add_option("--approach", approach, "mm/s");
  app.add_option("--withdrawal", withdrawal, "mm/s");
  app.add_option("--break", break_mm, "mean break of the first trial, mm");
  app.add_option("--recovery", recovery_mm, "mean recovery, mm");
  app.add_option("--trial-sd", sd_mm, "between trials, mm");
  app.add_option("--recession", recession_mm, "a trial, mm");
  app.add_option("--drift", drift_deg, "after the break, degrees");
  app.add_flag("--right-drifts", right_drifts, "the right eye drifts instead of the left");
  app.add_flag("--fusion-holds", p.behaviour.fusion_holds, "never breaks");
  app.add_flag("--silent", silent, "reports nothing");
  app.add_option("--lag", lag_ms, "ms");
  app.add_option("--lag-sd", lag_sd_ms, "ms");
  app.add_option("--blinks", p.behaviour.blinks_per_minute, "a minute");
  app.add_option("--sway", p.behaviour.sway, "0 none .. 3 restless");
  app.add_option("--fps", p.behaviour.frames_per_second, "frames a second");
  app.add_option("--target", target, "x,y,z in the camera frame, mm")->delimiter(',')->expected(3);
  app.add_option("--card", card, "forehead, nose (under it), held or touch")
      ->check(CLI::IsMember({"forehead", "nose", "held", "touch"}));
  app.add_option("--card-gap", gap, "between card and skin, mm");
  app.add_option("--card-bend", bend, "middle before the ends, mm");
  app.add_option("--card-turned", turned, "about the upright axis, degrees");
  app.add_option("--card-tipped", tipped, "about the horizontal axis, degrees");
  app.add_option("--card-rolled", rolled, "in its plane, degrees");
  app.add_option("--card-fingers", fingers, "over the card's edge, mm; -30: no hand");
  app.add_option("--card-glare", glare, "radius of a mirrored lamp, mm");
  app.add_flag("--card-stays", stays, "does not turn with the head");
  app.add_option("--face-distance", face_mm, "held card: lens to eyes, mm");
  app.add_option("--hold", hold_s, "waits before the first trial, s");
  app.add_option("--turn", turn_deg, "head turns this far to each side, degrees");
  app.add_option("--seed", p.seed, "of all random behaviour");
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : 2;
  }

  p.appearance.distance_pd = Length::Millimeters(pd);
  p.appearance.iris = Length::Millimeters(iris);
  if (!left_lens.empty() || !right_lens.empty()) {
    const auto lens = [](std::vector<double> v) {
      v.resize(4);
      return LensPower{v[0], v[1], Angle::Degrees(v[2]), v[3]};
    };
    worn.left = lens(left_lens.empty() ? right_lens : left_lens);
    worn.right = lens(right_lens.empty() ? left_lens : right_lens);
    worn.vertex = Length::Millimeters(vertex);
    worn.tilt = Angle::Degrees(tilt_deg);
    worn.rim = Length::Millimeters(rim);
    p.appearance.spectacles = worn;
  }
  p.optics.camera = PinholeCamera(width, height, Angle::Degrees(field_deg));
  std::copy(distortion.begin(), distortion.end(), p.optics.camera.distortion.begin());
  p.optics.aperture = Length::Millimeters(aperture);
  p.optics.focus = Length::Millimeters(focus);
  p.behaviour.start = Length::Millimeters(start);
  p.behaviour.nearest = Length::Millimeters(nearest);
  p.behaviour.approach = Speed::MillimetersPerSecond(approach);
  p.behaviour.withdrawal = Speed::MillimetersPerSecond(withdrawal);
  p.behaviour.break_mean = Length::Millimeters(break_mm);
  p.behaviour.recovery_mean = Length::Millimeters(recovery_mm);
  p.behaviour.between_trial_sd = Length::Millimeters(sd_mm);
  p.behaviour.recession_per_trial = Length::Millimeters(recession_mm);
  p.behaviour.drift = Angle::Degrees(drift_deg);
  p.behaviour.left_eye_drifts = !right_drifts;
  p.behaviour.reports = !silent;
  p.behaviour.lag = FromMilliseconds(lag_ms);
  p.behaviour.lag_sd = FromMilliseconds(lag_sd_ms);
  p.target_mm = {target[0], target[1], target[2]};
  p.behaviour.hold = FromMilliseconds(1000 * hold_s);
  p.behaviour.turn = Angle::Degrees(turn_deg);
  if (!card.empty()) {
    CardProp prop;
    prop.place = card == "forehead" ? CardPlace::kForehead
                 : card == "nose"   ? CardPlace::kUnderNose
                 : card == "held"   ? CardPlace::kHeld
                                    : CardPlace::kTouch;
    prop.picture = DrawCardPattern(10);
    prop.gap = Length::Millimeters(gap);
    prop.bend = Length::Millimeters(bend);
    prop.turned = Angle::Degrees(turned);
    prop.tipped = Angle::Degrees(tipped);
    prop.rolled = Angle::Degrees(rolled);
    prop.fingers = Length::Millimeters(fingers);
    prop.glare = Length::Millimeters(glare);
    prop.moves_with_head = !stays;
    prop.face_distance = Length::Millimeters(face_mm);
    p.card = prop;
  }
  if (auto ok = CheckOptions(p); !ok) return Fail(ok.error().message);
  for (const double distance : command.distances_mm) {
    if (!(distance >= 25 && distance <= 3000))
      return Fail("--distances must lie between 25 and 3000 mm");
  }
  std::error_code error;
  std::filesystem::create_directories(command.out, error);
  if (error)
    return Fail("could not make the folder " + command.out.string() + ": " + error.message());
  std::ofstream profile_file(command.out / "profile.json");
  profile_file << ToJson(TrueProfile(p)).dump(1) << "\n";
  if (!profile_file) return Fail("could not write " + (command.out / "profile.json").string());
  return command.session ? Session(command) : Stills(command);
}
