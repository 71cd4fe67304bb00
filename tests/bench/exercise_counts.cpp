// How often the counter counts what was no repetition, and misses what was one: over the noise of
// the tracker and over how much the pair asks for. Synthetic eyes, no pictures.
//   exercise_counts [sessions a cell, default 6]
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include "app/exercise/pair_geometry.h"
#include "tests/support/exercise_patient.h"

namespace {

using namespace nearpoint;           // NOLINT(google-build-using-namespace): a program
using namespace nearpoint::testing;  // NOLINT(google-build-using-namespace): a program

struct Cell {
  int counted = 0;
  int attempts = 0;
  double seconds = 0;
  std::map<NotCounted, int> why;
};

// The separation that asks for this much beyond the screen.
double SeparationFor(const ExercisePatient& p, double extra_deg) {
  const double screen = p.screen_mm + 13.5;
  const double far = std::atan(0.5 * p.pupil_distance_mm / screen);
  return 2 * screen * std::tan(far + extra_deg * std::numbers::pi / 360) - p.pupil_distance_mm;
}

Cell Run(ExercisePatient p, double extra_deg, double gain, int sessions, double seconds) {
  p.separation_mm = SeparationFor(p, extra_deg);
  Cell cell;
  for (int i = 0; i < sessions; ++i) {
    ExercisePatient one = p;
    one.gain = gain + 0.06 * ((i % 5) - 2) / 2;
    one.offset_deg = -4 + 2.0 * (i % 7);
    Exerciser patient(one, static_cast<std::uint64_t>(i) + 1);
    CounterSetup setup = SetupOf(one);
    setup.repetitions = 1000;
    RepetitionCounter counter(setup);
    Exercise(patient, counter, seconds);
    cell.counted += counter.counted();
    cell.attempts += static_cast<int>(counter.attempts().size());
    cell.seconds += seconds;
    for (const Attempt& a : counter.attempts()) {
      if (a.why) ++cell.why[*a.why];
    }
  }
  return cell;
}

const char* Name(Doing doing) {
  switch (doing) {
    case Doing::kWell:
      return "done well";
    case Doing::kOnlyHand:
      return "only the hand moves";
    case Doing::kHalfWay:
      return "eyes half way";
    case Doing::kOneEye:
      return "one eye stays";
    case Doing::kNearer:
      return "eyes 1.7 times as far";
    case Doing::kOneDrifts:
      return "one eye drifts after 2 s";
    case Doing::kLetsGo:
      return "lets go after 2 s";
    case Doing::kSilent:
      return "reports nothing";
    case Doing::kLeftHidden:
      return "left eye hidden";
    case Doing::kMissesMark:
      return "misses a mark";
    case Doing::kReportsTwice:
      return "reports a second early";
  }
  return "";
}

}  // namespace

int main(int argc, char** argv) {
  const int sessions = argc > 1 ? std::atoi(argv[1]) : 6;
  const double extras[] = {4, 7, 9, 12, 15, 25};
  struct Noise {
    const char* name;
    double white, wander, slow;
  };
  const Noise noises[] = {
      {"good light", 0.4, 0.5, 0.5}, {"usual", 0.6, 0.8, 0.7}, {"poor", 1.0, 1.2, 1.0}};
  std::printf("counted of tries (percent); for everything but the first rows a count is false\n");
  for (const Noise& noise : noises) {
    std::printf("\n%s: white %.1f, wander %.1f over 3 s and %.1f over a minute (degrees)\n",
                noise.name, noise.white, noise.wander, noise.slow);
    std::printf("%-26s", "pair asks beyond screen:");
    for (const double extra : extras) std::printf("%12.0f deg", extra);
    std::printf("\n");
    for (const Doing doing : {Doing::kWell, Doing::kReportsTwice, Doing::kOnlyHand, Doing::kHalfWay,
                              Doing::kOneEye, Doing::kNearer, Doing::kOneDrifts, Doing::kLetsGo,
                              Doing::kSilent, Doing::kLeftHidden, Doing::kMissesMark}) {
      std::printf("%-26s", Name(doing));
      for (const double extra : extras) {
        ExercisePatient p;
        p.doing = doing;
        p.white_deg = noise.white;
        p.wander_deg = noise.wander;
        p.slow_deg = noise.slow;
        const Cell cell = Run(p, extra, 1.0, sessions, 240);
        std::printf("%6d/%4d %3.0f%%", cell.counted, cell.attempts,
                    cell.attempts == 0 ? 0.0 : 100.0 * cell.counted / cell.attempts);
      }
      std::printf("\n");
    }
    std::printf("named reasons, pair of 15 degrees:\n");
    for (const Doing doing : {Doing::kWell, Doing::kOnlyHand, Doing::kHalfWay, Doing::kOneEye,
                              Doing::kNearer, Doing::kOneDrifts, Doing::kLetsGo, Doing::kSilent,
                              Doing::kLeftHidden, Doing::kMissesMark}) {
      ExercisePatient p;
      p.doing = doing;
      p.white_deg = noise.white;
      p.wander_deg = noise.wander;
      p.slow_deg = noise.slow;
      const Cell cell = Run(p, 15, 1.0, sessions, 240);
      std::printf("  %-26s", Name(doing));
      for (const auto& [why, n] : cell.why) {
        std::printf(" %s %d", std::string(ToText(why)).c_str(), n);
      }
      std::printf("\n");
    }
  }
  return 0;
}
