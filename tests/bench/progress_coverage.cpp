// How often the bands of the course over weeks hold the truth, over simulated people: the slope and
// the line on the last day. Each person has a within-session and a day-to-day deviation drawn about
// the published ones (lognormal, 8 and 7.75 mm, 95 % within a factor of 1.9), sessions of three
// trials a week apart, one calibration. "nose" is a shortest distance that turns trials into
// bounds. Exit 1 when the slope or the last day is held in fewer than 93 %, or the slope in more
// than 97 % with twelve sessions: fewer rest in part on the priors, which are wider than this
// population.
//
//   progress_coverage [people per line, default 4000] [seed]
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <optional>
#include <random>
#include <vector>

#include "app/measure/progress.h"

namespace {

using namespace nearpoint;

struct Cell {
  int sessions = 6;
  double slope = 0;    // mm per week
  double nearest = 0;  // mm
};

bool Holds(const Band& band, double truth) { return truth >= band.low && truth <= *band.high; }

bool RunCell(const Cell& cell, int people, unsigned seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<> normal;
  SharedCalibration shared;
  shared.offset_sd = Length::Millimeters(1.5);
  int slopes = 0, slope_held = 0, last_held = 0, found = 0;
  double width = 0, last_width = 0, bias = 0;
  for (int person = 0; person < people; ++person) {
    const double within = 8 * std::exp(0.33 * normal(random));
    const double daily = 7.75 * std::exp(0.33 * normal(random));
    const double zero = shared.offset_sd.mm() * normal(random);
    std::vector<SessionPoint> points;
    double truth = 130;
    for (int i = 0; i < cell.sessions; ++i) {
      truth = 130 + cell.slope * i;
      const double day = truth + daily * normal(random);
      std::vector<Trial> trials;
      for (int k = 1; k <= 3; ++k) {
        Trial trial;
        trial.number = k;
        const double mm = day + within * normal(random) + zero;
        if (mm < cell.nearest) {
          trial.censored = Censoring::kBelow;
          trial.limit = Length::Millimeters(cell.nearest);
        } else {
          trial.break_point.emplace().value.value = Length::Millimeters(mm);
        }
        trials.push_back(trial);
      }
      points.push_back(*MakeSessionPoint(trials, shared, 7.0 * i, 8.0));
    }
    const Progress p = EstimateProgress(points);
    if (!p.slope_mm_per_week) continue;
    ++slopes;
    slope_held += Holds(*p.slope_mm_per_week, cell.slope);
    last_held += Holds(*p.last_mm, truth);
    found += p.course == (cell.slope < 0 ? Course::kNearer : Course::kNoneShown);
    width += *p.slope_mm_per_week->high - p.slope_mm_per_week->low;
    last_width += *p.last_mm->high - p.last_mm->low;
    bias += *p.slope_mm_per_week->value - cell.slope;
  }
  const double held = 100.0 * slope_held / slopes;
  const bool good =
      held >= 93 && 100.0 * last_held / slopes >= 93 && (held <= 97 || cell.sessions < 12);
  std::printf("%8d %6.1f %6.0f | %6d %6.1f %6.2f %6.2f | %6.1f %6.1f | %6.1f %s\n", cell.sessions,
              cell.slope, cell.nearest, slopes, held, bias / slopes, width / slopes,
              100.0 * last_held / slopes, last_width / slopes, 100.0 * found / slopes,
              good ? "good" : "OUT");
  return good;
}

}  // namespace

int main(int argc, char** argv) {
  const int people = argc > 1 ? std::atoi(argv[1]) : 4000;
  const unsigned seed = argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 1;
  if (people < 1) {
    std::fprintf(stderr, "usage: progress_coverage [people per line, at least 1] [seed]\n");
    return 2;
  }
  std::printf(
      "level 95 %%, slope in mm per week, seed %u\n"
      "sessions  slope   nose | people held %%   bias  width | last %%  width | course told "
      "rightly "
      "%%\n",
      seed);
  bool good = true;
  unsigned cell_seed = seed * 1000;
  for (const double nearest : {0.0, 90.0}) {
    for (const double slope : {0.0, -3.0, -6.0}) {
      for (const int sessions : {2, 3, 4, 6, 12}) {
        good &= RunCell({sessions, slope, nearest}, people, ++cell_seed);
      }
    }
  }
  return good ? 0 : 1;
}
