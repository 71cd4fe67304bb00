// nearpoint_bench_turned [PEOPLE] [FOLDER]: rendered children whose eyes never leave the target and
// who turn round somewhere between 6 and 25 cm, and as many whose eye drifts before that: how often
// the search for a drift takes the turn of the head for a break, and how often it finds a true one.
// Each trial ends 4 cm behind the turn, as that of a child who says nothing does
// (FlowRules::turned). FOLDER: the vergence of each trial, as CSV.
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "app/guide/measure_flow.h"
#include "app/live/practice_patient.h"
#include "app/measure/objective_break.h"
#include "tests/bench/tracked_patient.h"

namespace {

using namespace nearpoint;  // NOLINT

simulate::PatientOptions Child(int person, bool breaks) {
  PracticeOptions practice = PracticeWith(PracticeChild::kMovesBack);
  simulate::PatientOptions& patient = practice.patient;
  const auto part = [person](int primes) { return (person * primes % 97) / 97.0; };
  patient.optics.camera = simulate::PinholeCamera(960, 540, Angle::Degrees(65));
  patient.behaviour.trials = 1;
  constexpr int kPracticeTrials = 3;
  if (person < kPracticeTrials && !breaks) {
    // Who moves back in the volunteer's practice.
    patient.seed += static_cast<std::uint64_t>(person) + 1;
    return patient;
  }
  patient.seed = 100 + static_cast<std::uint64_t>(person);
  patient.appearance.texture_seed = patient.seed;
  patient.appearance.skin_tone = part(31);
  patient.appearance.iris_tone = part(53);
  patient.appearance.head_scale = 0.86 + 0.14 * part(17);
  patient.behaviour.sway = 0.5 + 2 * part(41);
  patient.behaviour.nearest = Length::Millimeters(60 + 190 * part(61));
  patient.behaviour.frames_per_second = 15;
  if (breaks) {
    patient.behaviour.fusion_holds = false;
    patient.behaviour.break_mean = patient.behaviour.nearest + Length::Millimeters(30);
    patient.behaviour.recovery_mean = patient.behaviour.break_mean + Length::Millimeters(30);
  }
  return patient;
}

// As far as a silent child's trial goes.
void CutBehindTurn(std::vector<DistanceSample>& samples) {
  constexpr Length kTurned = FlowRules().turned;
  std::optional<Length> nearest;
  const auto end = std::ranges::find_if(samples, [&](const DistanceSample& s) {
    if (!s.distance) return false;
    if (!nearest || s.distance->value < *nearest) nearest = s.distance->value;
    return s.distance->value - *nearest >= kTurned;
  });
  samples.erase(end, samples.end());
}

}  // namespace

int main(int argc, char** argv) {
  const int people = argc > 1 ? std::atoi(argv[1]) : 20;
  const std::string folder = argc > 2 ? argv[2] : "";
  int breaks[2] = {0, 0};
  std::printf("drift  child  turns_mm  break_mm  evidence  found_mm  size_deg  set_aside\n");
  for (const bool drifts : {false, true}) {
    for (int person = 0; person < people; ++person) {
      const simulate::PatientOptions patient = Child(person, drifts);
      auto samples = TrackPatient(patient);
      if (!samples) {
        std::fprintf(stderr, "%s\n", samples.error().message.c_str());
        return 1;
      }
      CutBehindTurn(*samples);
      if (!folder.empty()) {
        WriteTrace(folder + (drifts ? "/drift-" : "/still-") + std::to_string(person) + ".csv",
                   *samples);
      }
      const ObjectiveResult eyes = AnalyseVergence(*samples);
      const bool found = eyes.break_point && eyes.break_point->distance;
      breaks[drifts ? 1 : 0] += found;
      std::printf("%5s  %5d  %8.0f  %8.0f  %8.1f  %8.0f  %8.1f  %s\n", drifts ? "yes" : "no",
                  person, patient.behaviour.nearest.mm(),
                  drifts ? patient.behaviour.break_mean.mm() : 0.0, eyes.log_evidence,
                  found ? eyes.break_point->distance->value.mm() : 0.0,
                  found ? eyes.break_point->size.deg() : 0.0,
                  eyes.set_aside ? std::string(ToText(*eyes.set_aside)).c_str() : "");
      std::fflush(stdout);
    }
  }
  std::printf("without a drift: %d of %d taken for a break; with one: %d of %d found\n", breaks[0],
              people, breaks[1], people);
}
