// nearpoint_bench_glasses [POWER[,POWER]...]: simulated patients lean in behind lenses of each
// power (left and right where two are given as -6:-2), and the tracker follows the same pictures
// three times: with the prescription entered, with the glasses said to be worn and no strength, and
// with nothing said of glasses. Prints distance and vergence over power, distance, and how the
// power was known. The renderer shares no code with the tracker.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <deque>
#include <sstream>
#include <string>
#include <vector>

#include "models/landmark_model.h"
#include "tests/bench/accuracy_table.h"
#include "vision/pipeline/tracker.h"
#include "vision/simulate/patient.h"

namespace {

using namespace nearpoint;            // NOLINT
using namespace nearpoint::simulate;  // NOLINT

struct Powers {
  double left, right;
};

enum class Known { kEntered, kWorn, kNotSaid };
constexpr Known kAll[] = {Known::kEntered, Known::kWorn, Known::kNotSaid};

const char* ToText(Known known) {
  switch (known) {
    case Known::kEntered:
      return "entered";
    case Known::kWorn:
      return "worn, unknown";
    case Known::kNotSaid:
      return "not said";
  }
  return "";
}

bench::TruthRow RowOf(const FrameTruth& truth) {
  const auto inward = [&](const EyeTruth& eye, bool left) {
    const Eigen::Vector3d g = truth.camera_from_head.transpose() * eye.gaze;
    return (left ? -1 : 1) * std::atan2(g.x(), g.z()) * 180 / M_PI;
  };
  return {truth.distance.mm(), truth.lids_closed, inward(truth.left_eye, true),
          inward(truth.right_eye, false)};
}

PatientOptions Patient(const Powers& powers, std::uint64_t seed) {
  PatientOptions o;
  o.optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  o.optics.aperture = Length::Millimeters(1.2);
  o.behaviour.trials = 1;
  o.behaviour.start = Length::Millimeters(420);
  o.behaviour.nearest = Length::Millimeters(62);
  o.behaviour.fusion_holds = true;
  o.behaviour.approach = Speed::MillimetersPerSecond(50);
  o.behaviour.withdrawal = Speed::MillimetersPerSecond(80);
  o.behaviour.frames_per_second = 15;
  o.seed = seed;
  o.appearance.texture_seed = seed;
  Spectacles worn;
  worn.left.sphere = powers.left;
  worn.right.sphere = powers.right;
  worn.tilt = Angle::Degrees(6);
  o.appearance.spectacles = worn;
  return o;
}

Profile ProfileOf(const PatientOptions& options, Known known) {
  Profile profile = TrueProfile(options);
  if (known == Known::kNotSaid) return profile;
  Glasses glasses;
  glasses.worn = true;
  if (known == Known::kEntered) {
    const auto lens = [](double power) {
      LensPrescription out;
      out.sphere.value = Diopters::Of(power);
      return out;
    };
    glasses.left = lens(options.appearance.spectacles->left.sphere);
    glasses.right = lens(options.appearance.spectacles->right.sphere);
  }
  profile.face.glasses = glasses;
  return profile;
}

struct Run {
  Known known;
  Tracker tracker;
  bench::AccuracyTable table;
  std::optional<LensEstimate> left, right;
};

void Print(const Powers& powers, const Run& run) {
  for (const auto& [from, to] : {std::pair{62.0, 80.0}, {80, 150}, {150, 250}, {250, 430}}) {
    const auto f = run.table.Of(from, to);
    std::printf(
        "  %+5.1f %+5.1f  %-14s %3.0f-%-3.0f %6d  %5.1f  %6.2f %6.2f %6.2f  %5.1f  %6.2f %5.1f",
        powers.left, powers.right, ToText(run.known), from, to, f.frames,
        100.0 * f.valid / std::max(1, f.frames), f.median_mm, f.p95_mm, f.bias_mm, f.within_2sd,
        f.vergence_median_deg, f.vergence_within_2sd);
    if (run.left && run.right && from == 62) {
      std::printf("   left %+.1f +- %.1f  right %+.1f +- %.1f", run.left->diopters,
                  run.left->sd_diopters, run.right->diopters, run.right->sd_diopters);
    }
    std::printf("\n");
  }
}

std::vector<Powers> PowersFrom(const std::string& text) {
  std::vector<Powers> all;
  std::stringstream in(text);
  std::string item;
  while (std::getline(in, item, ',')) {
    const auto colon = item.find(':');
    const double left = std::atof(item.c_str());
    all.push_back({left, colon == std::string::npos ? left : std::atof(&item[colon + 1])});
  }
  return all;
}

}  // namespace

int main(int argc, char** argv) {
  const auto powers = PowersFrom(argc > 1 ? argv[1] : "-8,-6,-4,-2,0,3,5,-6:-2");
  const auto model = FindLandmarkModel();
  if (!model) {
    std::fprintf(stderr, "%s\n", model.error().message.c_str());
    return 1;
  }
  std::printf(
      "  lenses (D)    power is       distance frames valid  |e| mm median  p95   bias  <=2sd  "
      "vergence median <=2sd   learned\n"
      "  left  right                   mm              %%                                 %%     "
      "deg        %%\n");
  std::vector<bench::AccuracyTable> all(std::size(kAll));
  std::uint64_t seed = 300;
  for (const Powers& power : powers) {
    const PatientOptions options = Patient(power, ++seed);
    std::vector<Run> runs;
    for (const Known known : kAll) {
      auto tracker = Tracker::Create(ProfileOf(options, known),
                                     {*model, *FindEyeFinderModel(), *FindEyeReaderModel()});
      if (!tracker) return 1;
      runs.push_back({known, std::move(*tracker), {}, {}, {}});
    }
    std::deque<FrameTruth> truth;
    auto patient = MakePatient(options, [&](const FrameTruth& t) { truth.push_back(t); });
    if (!patient) {
      std::fprintf(stderr, "%s\n", patient.error().message.c_str());
      return 1;
    }
    while (true) {
      const auto frame = (*patient)->Next();
      if (!frame || !*frame) break;
      const bench::TruthRow row = RowOf(truth.front());
      truth.pop_front();
      for (std::size_t i = 0; i < runs.size(); ++i) {
        const auto sample = runs[i].tracker.Process(**frame);
        if (!sample) return 1;
        runs[i].table.Add(row, *sample);
        all[i].Add(row, *sample);
        if (!sample->left_lens) continue;
        runs[i].left = sample->left_lens;
        runs[i].right = sample->right_lens;
      }
    }
    for (const Run& run : runs) Print(power, run);
    std::fflush(stdout);
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    std::printf("all powers, %s\n", ToText(kAll[i]));
    all[i].Print(stdout);
  }
  return 0;
}
