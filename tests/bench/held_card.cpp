// nearpoint_bench_held: the distance of a held card to the eyes of simulated patients, before and
// after the zero touch, by distance.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "models/landmark_model.h"
#include "vision/card/draw_pattern.h"
#include "vision/pipeline/held_card_tracker.h"
#include "vision/simulate/patient.h"

namespace {

using namespace nearpoint;            // NOLINT
using namespace nearpoint::simulate;  // NOLINT

struct Row {
  double truth, measured, sd;
};

PatientOptions Base() {
  PatientOptions o;
  o.optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  o.behaviour.trials = 1;
  o.behaviour.start = Length::Millimeters(400);
  o.behaviour.nearest = Length::Millimeters(38);
  o.behaviour.break_mean = Length::Millimeters(60);
  o.behaviour.recovery_mean = Length::Millimeters(90);
  o.behaviour.approach = Speed::MillimetersPerSecond(60);
  o.behaviour.withdrawal = Speed::MillimetersPerSecond(90);
  o.behaviour.frames_per_second = 15;
  CardProp card;
  card.picture = DrawCardPattern(10);
  card.place = CardPlace::kHeld;
  o.card = card;
  return o;
}

std::vector<Row> Run(const PatientOptions& options, const Profile& profile,
                     const TrackerModels& models, int frames, int* lost, bool verbose) {
  std::vector<Row> rows;
  FrameTruth truth;
  auto patient = MakePatient(options, [&](const FrameTruth& t) { truth = t; });
  auto tracker = HeldCardTracker::Create(profile, models);
  if (!patient || !tracker) {
    std::printf("%s\n", patient ? tracker.error().message.c_str() : patient.error().message.c_str());
    return rows;
  }
  for (int i = 0; i < frames; ++i) {
    auto frame = (*patient)->Next();
    if (!frame || !*frame) break;
    const auto sample = tracker->Process(**frame);
    if (!sample) break;
    if (!sample->distance) {
      ++*lost;
      if (verbose) std::printf("%d %.1f lost %s\n", i, truth.distance.mm(),
                               std::string(ToText(*sample->why)).c_str());
      continue;
    }
    if (verbose) {
      std::printf("%d %.1f %.1f sd %.2f eye z %.1f of %.1f verg %.1f of %.1f\n", i,
                  truth.distance.mm(), sample->distance->value.mm(), sample->distance->sd.mm(),
                  sample->eye_mid_mm->z(), truth.eye_mid_mm.z(),
                  sample->vergence ? sample->vergence->deg() : 0, truth.vergence.deg());
    }
    rows.push_back(
        {truth.distance.mm(), sample->distance->value.mm(), sample->distance->sd.mm()});
  }
  return rows;
}

}  // namespace

int main(int argc, char** argv) {
  const auto landmark_file = FindLandmarkModel();
  const auto eyes = FindEyeRegionModel();
  if (!landmark_file || !eyes) return 1;
  const TrackerModels models{*landmark_file, *eyes};
  PatientOptions options = Base();
  options.seed = argc > 1 ? std::stoull(argv[1]) : 1;
  options.appearance.texture_seed = options.seed;
  Profile profile = TrueProfile(options);
  profile.held_card = HeldCardSetup{};
  int lost = 0;
  Run(options, profile, models, 400, &lost, true);
  options.card->place = CardPlace::kTouch;
  Run(options, profile, models, 20, &lost, true);
  return 0;
}
