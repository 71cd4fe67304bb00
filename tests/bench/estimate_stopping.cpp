// Stopping by plan against always ten trials: how often the answer is wrong, how often there is
// none, and how many trials it takes, for near points at several distances from the cut-off.
// Between-trial deviation drawn as in estimate_coverage; a calibration error of each person's own;
// trials end at 45 mm, still single. Exit 1 when, 5 mm or more from the cut-off, more than 5 % of
// the answers of either kind are wrong (and the simulation's own error).
//
//   estimate_stopping [people per line] [seed]
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <vector>

#include "app/measure/stopping.h"

namespace {

using namespace nearpoint;

constexpr double kCutOff = 63.5;
constexpr double kNearest = 45;
constexpr double kIndifference = 5;

struct Count {
  int beyond = 0, within = 0, none = 0;
  double trials = 0;
  void Add(Answer answer, std::size_t made) {
    beyond += answer == Answer::kBeyond;
    within += answer == Answer::kWithin;
    none += answer == Answer::kCannotTell;
    trials += static_cast<double>(made);
  }
};

Trial MakeTrial(int number, double break_mm) {
  Trial trial;
  trial.number = number;
  if (break_mm < kNearest) {
    trial.censored = Censoring::kBelow;
    trial.limit = Length::Millimeters(kNearest);
  } else {
    EventDistance at;
    at.value = {Length::Millimeters(break_mm), Length::Millimeters(1.2)};
    trial.break_point = at;
  }
  return trial;
}

bool RunLine(double offset, const SharedCalibration& shared, const char* name, int people,
             unsigned seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<> normal;
  EstimateOptions options;
  options.cut_off = Length::Millimeters(kCutOff);
  const StoppingPlan plan;
  Count planned, always;
  for (int person = 0; person < people; ++person) {
    const double spread = 8 * std::exp(0.33 * normal(random));
    const double truth = kCutOff + offset;
    const double scale = 1 + shared.relative_sd * normal(random);
    const double zero = shared.offset_sd.mm() * normal(random);
    std::vector<Trial> trials;
    bool stopped = false;
    for (int i = 1; i <= plan.most; ++i) {
      trials.push_back(
          MakeTrial(i, scale * (truth + spread * normal(random)) + zero + 1.2 * normal(random)));
      if (stopped) continue;
      const NextStep next = AdviseNextStep(trials, shared, options, plan);
      if (next.advice == Advice::kContinue) continue;
      stopped = true;
      planned.Add(next.estimate.answer, trials.size());
    }
    always.Add(EstimateNearPoint(trials, shared, options).answer, trials.size());
  }
  const auto percent = [people](int n) { return 100.0 * n / people; };
  const int wrong = offset > 0 ? planned.within : offset < 0 ? planned.beyond : 0;
  const double error = 3 * 100 * std::sqrt(0.05 * 0.95 / people);
  const bool good = std::abs(offset) < kIndifference || percent(wrong) <= 5 + error;
  std::printf("%6.0f  %-6s | %6.1f %6.1f %6.1f %6.2f | %6.1f %6.1f %6.1f %s\n", offset, name,
              percent(planned.beyond), percent(planned.within), percent(planned.none),
              planned.trials / people, percent(always.beyond), percent(always.within),
              percent(always.none), good ? "" : "  OUT");
  return good;
}

}  // namespace

int main(int argc, char** argv) {
  const int people = argc > 1 ? std::atoi(argv[1]) : 2000;
  unsigned seed = argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 1;
  if (people < 1) {
    std::fprintf(stderr, "usage: estimate_stopping [people per line, at least 1] [seed]\n");
    return 2;
  }
  std::printf("%d people a line, cut-off %.1f mm, 3 to 10 trials; figures in %% of people\n",
              people, kCutOff);
  std::printf("offset  calib. |         by plan             |   always ten trials\n");
  std::printf("    mm         | beyond within   none trials | beyond within   none\n");
  bool good = true;
  for (const bool large : {false, true}) {
    SharedCalibration shared;
    shared.relative_sd = large ? 0.03 : 0.01;
    shared.offset_sd = Length::Millimeters(large ? 4 : 1.4);
    for (const double offset : {-20.0, -10.0, -5.0, 0.0, 5.0, 10.0, 20.0, 40.0}) {
      good &= RunLine(offset, shared, large ? "large" : "small", people, ++seed);
    }
  }
  return good ? 0 : 1;
}
