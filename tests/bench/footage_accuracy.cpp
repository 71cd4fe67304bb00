// nearpoint_bench_footage [--lens POWER|LEFT,RIGHT|worn|truth] FOLDER...: tracks footage with known
// truth and prints how far off the tracker is. --lens: what the tracker is told of the glasses
// beyond the profile: dioptres, that some are worn, or what the truth says of each frame. A folder
// holds profile.json, truth.jsonl (a line a frame: distance_mm, blink, head_rot, left_eye.gaze,
// right_eye.gaze) and clip.avi or images with frames.jsonl. Extra: nothing in the project needs
// such a folder.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>

#include "calibration/profile_json.h"
#include "models/landmark_model.h"
#include "tests/bench/accuracy_table.h"
#include "vision/camera/open_source.h"
#include "vision/pipeline/tracker.h"

namespace {

using namespace nearpoint;  // NOLINT

// Inward rotation of one eye in the head frame, from the gaze in the camera frame.
double InwardDeg(const nlohmann::json& truth, const char* eye) {
  double h[3] = {};
  for (int c = 0; c < 3; ++c) {
    for (int k = 0; k < 3; ++k) {
      h[c] += truth["head_rot"][static_cast<std::size_t>(3 * k + c)].get<double>() *
              truth[eye]["gaze"][static_cast<std::size_t>(k)].get<double>();
    }
  }
  const double out = std::atan2(h[0], h[2]) * 180 / M_PI;
  return eye[0] == 'l' ? -out : out;
}

LensPrescription Lens(double power) {
  LensPrescription lens;
  lens.sphere.value = Diopters::Of(power);
  return lens;
}

// told: as on the command line; power: of this frame, in truth.
std::optional<Glasses> GlassesFrom(const std::string& told, double power) {
  if (told.empty() || (told == "truth" && power == 0)) return std::nullopt;
  Glasses glasses;
  glasses.worn = true;
  if (told == "worn") return glasses;
  const auto comma = told.find(',');
  const double left = told == "truth" ? power : std::atof(told.c_str());
  glasses.left = Lens(left);
  glasses.right = Lens(comma == std::string::npos ? left : std::atof(&told[comma + 1]));
  return glasses;
}

int Run(const std::filesystem::path& folder, const std::string& told, bench::AccuracyTable* all) {
  const auto complain = [](const Error& e) {
    std::fprintf(stderr, "%s\n", e.message.c_str());
    return 1;
  };
  auto profile = ReadProfile(folder / "profile.json");
  if (!profile) return complain(profile.error());
  const auto clip = folder / "clip.avi";
  auto source = OpenSource((std::filesystem::exists(clip) ? clip : folder).string(),
                           ImageSize{profile->camera.width, profile->camera.height});
  if (!source) return complain(source.error());
  const auto model = FindLandmarkModel();
  if (!model) return complain(model.error());
  std::optional<Tracker> tracker;
  double power_now = 0;
  std::ifstream truth_file(folder / "truth.jsonl");
  bench::AccuracyTable table;
  std::string line;
  while (std::getline(truth_file, line)) {
    const auto truth = nlohmann::json::parse(line);
    const auto frame = (*source)->Next();
    if (!frame) return complain(frame.error());
    if (!*frame) break;
    const double power = truth.value("lens_dioptres", 0.0);
    if (!tracker || (told == "truth" && power != power_now)) {
      power_now = power;
      if (!told.empty()) profile->face.glasses = GlassesFrom(told, power);
      auto made = Tracker::Create(*profile, {*model, *FindEyeFinderModel(), *FindEyeReaderModel()});
      if (!made) return complain(made.error());
      tracker.emplace(std::move(*made));
    }
    const auto sample = tracker->Process(**frame);
    if (!sample) return complain(sample.error());
    const bench::TruthRow row{truth["distance_mm"], truth["blink"], InwardDeg(truth, "left_eye"),
                              InwardDeg(truth, "right_eye")};
    table.Add(row, *sample);
    all->Add(row, *sample);
  }
  std::printf("%s\n", folder.filename().c_str());
  table.Print(stdout);
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  std::string told;
  int first = 1;
  if (argc > 2 && std::string(argv[1]) == "--lens") {
    told = argv[2];
    first = 3;
  }
  if (argc <= first) {
    std::fprintf(stderr,
                 "usage: nearpoint_bench_footage [--lens POWER|LEFT,RIGHT|worn|truth] FOLDER...\n");
    return 2;
  }
  bench::AccuracyTable all;
  for (int i = first; i < argc; ++i) {
    if (const int code = Run(argv[i], told, &all); code != 0) return code;
  }
  if (argc > first + 1) {
    std::printf("all\n");
    all.Print(stdout);
  }
  return 0;
}
