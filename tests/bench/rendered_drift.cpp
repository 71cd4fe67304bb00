// nearpoint_bench_drift [PEOPLE] [FIRST] [FOLDER]: rendered people whose eye drifts out by 5 to 12
// degrees somewhere between 5 and 15 cm, and as many whose eyes hold: what the search for a drift
// finds in the tracker's own samples. drift_roc asks the same of traces, by the hundred; here every
// frame is a picture and goes through the whole tracker. FIRST: the number of the first person.
// FOLDER: the vergence of each trial, as CSV.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "app/measure/objective_break.h"
#include "tests/bench/tracked_patient.h"

namespace {

using namespace nearpoint;  // NOLINT

// Parts of 1 that are spread evenly over people and differ from each other.
double Part(int person, double step) { return std::fmod(person * step + 0.5 * step, 1.0); }

simulate::PatientOptions Person(int person, bool drifts) {
  simulate::PatientOptions patient;
  patient.seed = 500 + static_cast<std::uint64_t>(person);
  patient.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  simulate::Appearance& looks = patient.appearance;
  looks.texture_seed = patient.seed;
  looks.skin_tone = Part(person, 0.618);
  looks.iris_tone = Part(person, 0.755);
  looks.head_scale = 0.88 + 0.2 * Part(person, 0.570);
  looks.distance_pd = Length::Millimeters(62 * looks.head_scale);
  simulate::Behaviour& acts = patient.behaviour;
  acts.trials = 1;
  acts.start = Length::Millimeters(350);
  acts.sway = 0.5 + 1.5 * Part(person, 0.430);
  acts.approach = Speed::MillimetersPerSecond(15 + 10 * Part(person, 0.287));
  acts.drift = Angle::Degrees(5 + 7 * Part(person, 0.819));
  acts.left_eye_drifts = person % 2 == 0;
  acts.between_trial_sd = {};
  acts.break_mean = Length::Millimeters(50 + 100 * Part(person, 0.353));
  acts.recovery_mean = acts.break_mean + Length::Millimeters(30);
  acts.nearest = Length::Millimeters(45);
  acts.fusion_holds = !drifts;
  return patient;
}

double Quantile(std::vector<double> values, double part) {
  if (values.empty()) return std::nan("");
  std::ranges::sort(values);
  const auto at = static_cast<std::size_t>(part * static_cast<double>(values.size()));
  return values[std::min(values.size() - 1, at)];
}

const char* EyeWord(DriftingEye eye) {
  switch (eye) {
    case DriftingEye::kLeft:
      return "left";
    case DriftingEye::kRight:
      return "right";
    default:
      return "open";
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int people = argc > 1 ? std::atoi(argv[1]) : 20;
  const int first = argc > 2 ? std::atoi(argv[2]) : 0;
  const std::string folder = argc > 3 ? argv[3] : "";
  int found = 0, named = 0, misnamed = 0, false_breaks = 0, in_time = 0, in_place = 0;
  std::vector<double> ms, mm;
  std::printf("drift person  true mm  deg  eye    evidence  off ms  off mm  named  set aside\n");
  for (int person = first; person < first + people; ++person) {
    for (const bool drifts : {true, false}) {
      const simulate::PatientOptions patient = Person(person, drifts);
      const auto samples = TrackPatient(patient);
      if (!samples) {
        std::fprintf(stderr, "%s\n", samples.error().message.c_str());
        return 1;
      }
      if (!folder.empty()) {
        WriteTrace(folder + (drifts ? "/drift-" : "/still-") + std::to_string(person) + ".csv",
                   *samples);
      }
      const ObjectiveResult eyes = AnalyseVergence(*samples);
      const std::string aside = eyes.set_aside ? std::string(ToText(*eyes.set_aside)) : "";
      if (!drifts) {
        false_breaks += eyes.break_point.has_value();
        std::printf("   no %6d %45.1f %25s %s\n", person, eyes.log_evidence,
                    eyes.break_point ? "FALSE" : "", aside.c_str());
        std::fflush(stdout);
        continue;
      }
      const simulate::TrialTruth truth = simulate::MakeScript(patient).trials.front();
      std::printf("  yes %6d %8.0f %4.1f  %-5s %9.1f", person, truth.break_distance.mm(),
                  patient.behaviour.drift.deg(),
                  patient.behaviour.left_eye_drifts ? "left" : "right", eyes.log_evidence);
      if (eyes.break_point && eyes.break_point->distance) {
        ++found;
        const double off_ms =
            ToMilliseconds(eyes.break_point->time) - ToMilliseconds(truth.break_time);
        const double off_mm = eyes.break_point->distance->value.mm() - truth.break_distance.mm();
        ms.push_back(std::abs(off_ms));
        mm.push_back(std::abs(off_mm));
        in_time += std::abs(off_ms) <= 150;
        in_place += std::abs(off_mm) <= 3;
        const bool right = eyes.eye == (patient.behaviour.left_eye_drifts ? DriftingEye::kLeft
                                                                          : DriftingEye::kRight);
        named += right;
        misnamed += !right && eyes.eye != DriftingEye::kUnclear;
        std::printf("  %6.0f  %6.1f  %-5s", off_ms, off_mm, EyeWord(eyes.eye));
      } else {
        std::printf("  %22s", eyes.break_point ? "without a place" : "NOT FOUND");
      }
      std::printf("  %s\n", aside.c_str());
      std::fflush(stdout);
    }
  }
  std::printf(
      "with a drift: found with its place %d of %d, eye named rightly %d, wrongly %d; moment off "
      "by a median of "
      "%.0f ms, within 150 ms %d; distance off by a median of %.1f mm, within 3 mm %d\n"
      "without one: %d of %d taken for a break\n",
      found, people, named, misnamed, Quantile(ms, 0.5), in_time, Quantile(mm, 0.5), in_place,
      false_breaks, people);
  return 0;
}
