// nearpoint_bench_held: a held card and simulated patients: the zero touch, then the distance from
// the card to the eyes by distance, with a face scale that is wrong by 1 %: errors in millimetres
// and in the deviations that stand beside the distance. Where a room is too dark for a zero, what
// the tracker still tells without one, and whether that is as true as it says.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <numeric>
#include <string>
#include <vector>

#include "calibration/face_touch.h"
#include "calibration/print_scale.h"
#include "models/landmark_model.h"
#include "vision/card/draw_pattern.h"
#include "vision/pipeline/held_card_tracker.h"
#include "vision/simulate/patient.h"

namespace {

using namespace nearpoint;            // NOLINT
using namespace nearpoint::simulate;  // NOLINT

struct Row {
  double truth, measured;
  double sd;  // stated: of this frame and shared
};

PatientOptions Base() {
  PatientOptions o;
  o.optics.camera = PinholeCamera(1280, 720, Angle::Degrees(65));
  o.behaviour.trials = 1;
  o.behaviour.hold = std::chrono::seconds(1);
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

double Mean(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

struct Tracked {
  std::vector<Row> rows;
  std::vector<TouchSample> samples;
  std::vector<double> touching_mm;  // true, of the target along the line of sight while it rests
  std::map<std::string, int> lost;
};

Tracked Run(const PatientOptions& options, const Profile& profile, const std::string& landmark_file,
            int frames, bool verbose) {
  Tracked out;
  FrameTruth truth;
  auto patient = MakePatient(options, [&](const FrameTruth& t) { truth = t; });
  auto tracker = HeldCardTracker::Create(profile, landmark_file);
  if (!patient || !tracker) return out;
  for (int i = 0; i < frames; ++i) {
    auto frame = (*patient)->Next();
    if (!frame || !*frame) break;
    const auto sample = tracker->Process(**frame);
    if (!sample) break;
    if (truth.card && truth.distance < Length::Millimeters(20)) {
      out.touching_mm.push_back(SampleTouch({}, truth.target_mm, truth.eye_mid_mm, {}).before.mm());
    }
    if (!sample->distance) {
      if (truth.card) ++out.lost[std::string(ToText(*sample->why))];
      continue;
    }
    if (verbose) {
      std::printf(
          "%d truth %.1f measured %.1f sd %.2f, eyes at %.1f of %.1f, vergence %.1f of %.1f\n", i,
          truth.distance.mm(), sample->distance->value.mm(), sample->distance->sd.mm(),
          sample->eye_mid_mm->z(), truth.eye_mid_mm.z(),
          sample->vergence ? sample->vergence->deg() : 0, truth.vergence.deg());
    }
    out.samples.push_back(SampleTouch(sample->time, *tracker->target_mm(), *sample->eye_mid_mm,
                                      sample->distance->sd));
    out.rows.push_back({truth.distance.mm(), sample->distance->value.mm(),
                        std::hypot(sample->distance->sd.mm(), sample->distance_shared_sd->mm())});
  }
  return out;
}

void PrintRows(const Tracked& run) {
  const double edges[] = {20, 40, 60, 80, 120, 200, 300, 401};
  for (std::size_t k = 0; k + 1 < std::size(edges); ++k) {
    double sum = 0, squares = 0, worst = 0, stated = 0, in_deviations = 0;
    int n = 0, beyond = 0;
    for (const Row& row : run.rows) {
      if (row.truth < edges[k] || row.truth >= edges[k + 1]) continue;
      const double off = row.measured - row.truth;
      sum += off;
      squares += off * off;
      worst = std::max(worst, std::abs(off));
      stated += row.sd;
      in_deviations = std::max(in_deviations, std::abs(off) / row.sd);
      beyond += std::abs(off) > 3 ? 1 : 0;
      ++n;
    }
    if (n == 0) continue;
    std::printf(
        "  %3.0f to %3.0f mm: mean %+5.2f  rms %4.2f  worst %4.2f mm; stated %4.2f, worst %.1f of "
        "it; "
        "%d of %d frames beyond 3 mm\n",
        edges[k], edges[k + 1], sum / n, std::sqrt(squares / n), worst, stated / n, in_deviations,
        beyond, n);
  }
  for (const auto& [why, count] : run.lost) std::printf("  %d x %s\n", count, why.c_str());
}

}  // namespace

int main(int argc, char** argv) {
  const auto landmark_file = FindLandmarkModel();
  if (!landmark_file) {
    std::printf("%s\n", landmark_file.error().message.c_str());
    return 1;
  }
  const std::string only = argc > 1 ? argv[1] : "";
  const bool verbose = argc > 2;
  struct Condition {
    const char* name;
    void (*change)(PatientOptions&);
  };
  const Condition conditions[] = {
      {"face at 50 cm", [](PatientOptions&) {}},
      {"face at 40 cm",
       [](PatientOptions& o) {
         o.card->face_distance = Length::Millimeters(400);
         o.behaviour.start = Length::Millimeters(300);
       }},
      {"face at 60 cm, dark",
       [](PatientOptions& o) {
         o.card->face_distance = Length::Millimeters(600);
         o.appearance.skin_tone = 0.9;
         o.appearance.iris_tone = 0.9;
       }},
      {"child, dim light",
       [](PatientOptions& o) {
         o.appearance.head_scale = 0.87;
         o.appearance.distance_pd = Length::Millimeters(54);
         o.light.level = 0.3;
       }},
      {"light 0.15", [](PatientOptions& o) { o.light.level = 0.15; }},
      {"light 0.15, dark skin and iris",
       [](PatientOptions& o) {
         o.light.level = 0.15;
         o.appearance.skin_tone = 0.9;
         o.appearance.iris_tone = 0.9;
       }},
  };
  std::uint64_t seed = 40;
  for (const Condition& condition : conditions) {
    ++seed;
    if (std::string(condition.name).find(only) == std::string::npos) continue;
    PatientOptions options = Base();
    options.seed = seed;
    options.appearance.texture_seed = seed;
    condition.change(options);
    Profile profile = TrueProfile(options);
    for (auto* length : {&profile.face.iris, &profile.face.distance_pd, &profile.face.outer_corners,
                         &profile.face.inner_corners}) {
      (*length)->value = (*length)->value * 1.01;
    }
    profile.print = PrintScale{1, 1, kRulerPrintSd};
    profile.made.print = Origin{};
    profile.held_card = HeldCardSetup{};
    profile.held_card->target_in_card_mm = options.card->target_in_card_mm;
    PatientOptions touching = options;
    touching.card->place = CardPlace::kTouch;
    touching.behaviour.hold = std::chrono::seconds(4);
    const Tracked touch = Run(touching, profile, *landmark_file, 75, verbose);
    TouchOptions options_of_touch;
    const auto dark = touch.lost.find(std::string(ToText(LostReason::kTooDark)));
    if (dark != touch.lost.end())
      options_of_touch.too_dark = static_cast<std::size_t>(dark->second);
    const auto zero = ZeroFromTouch(touch.samples, Length::Millimeters(Mean(touch.touching_mm)),
                                    Length(), options_of_touch);
    std::printf("%s: ", condition.name);
    if (!zero) {
      std::printf("%s\n", zero.error().message.c_str());
      std::printf(" without a zero:\n");
      PrintRows(Run(options, profile, *landmark_file, 400, verbose));
      continue;
    }
    profile.held_card->zero = *zero;
    std::printf("zero %.1f mm (%.1f)\n", zero->value.mm(), zero->sd.mm());
    PrintRows(Run(options, profile, *landmark_file, 400, verbose));
  }
  return 0;
}
