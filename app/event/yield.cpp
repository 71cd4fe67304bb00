#include "app/event/yield.h"

#include <algorithm>
#include <cmath>
#include <random>

#include "app/measure/posterior.h"

namespace nearpoint {
namespace {

SharedCalibration Shared(double relative_sd, double offset_mm) {
  SharedCalibration shared;
  shared.relative_sd = relative_sd;
  shared.offset_sd = Length::Millimeters(offset_mm);
  return shared;
}

Trial SimulatedTrial(int number, double break_mm, const Equipment& equipment) {
  Trial trial;
  trial.number = number;
  if (break_mm < equipment.shortest_mm) {
    trial.censored = Censoring::kBelow;
    trial.limit = Length::Millimeters(equipment.shortest_mm);
  } else {
    EventDistance at;
    at.value = {Length::Millimeters(break_mm), Length::Millimeters(equipment.trial_sd_mm)};
    trial.break_point = at;
  }
  return trial;
}

// True near points from the spectacle plane, in millimetres.
std::vector<double> School(double limit_mm, const SchoolOptions& options, std::mt19937_64& random) {
  const double shape = 1 / (options.spread_to_mean * options.spread_to_mean);
  std::gamma_distribution<> gamma(shape, 1);
  std::vector<double> truths(static_cast<std::size_t>(options.simulated));
  for (double& truth : truths) truth = gamma(random);
  std::vector<double> order = truths;
  std::ranges::sort(order);
  const double place = (1 - options.beyond_share) * static_cast<double>(order.size());
  const double at_limit = order[std::min(order.size() - 1, static_cast<std::size_t>(place))];
  for (double& truth : truths) truth *= limit_mm / at_limit;
  return truths;
}

}  // namespace

const std::vector<Equipment>& AllEquipment() {
  // 0.04: the spread of the iris's size between people; 0.07: focal lengths of ordinary webcams
  // (open_camera.h); 0.01: a face measured with the card. Offsets: the target under the lens placed
  // by eye, or where the screen's calibration put it.
  static const std::vector<Equipment> all{
      {"webcam", "nothing calibrated", Shared(std::hypot(0.04, 0.07), 4.2), 1.2, 45,
       "population scale 4 %, an ordinary webcam's focal length 7 %, target within 4 mm"},
      {"camera", "camera calibrated", Shared(0.04, 1.7), 1.2, 45,
       "population scale 4 %, camera and target calibrated"},
      {"card", "camera and face calibrated with the card", Shared(0.01, 1.7), 1.2, 45,
       "personal scale 1 %, camera and target calibrated"},
  };
  return all;
}

Result<const Equipment*> FindEquipment(std::string_view id) {
  const auto found = std::ranges::find(AllEquipment(), id, &Equipment::id);
  if (found != AllEquipment().end()) return &*found;
  return Fail(ErrorCode::kNotFound, "No equipment is called \"" + std::string(id) +
                                        "\"; known are webcam, camera, card.");
}

Result<Yield> ExpectedYield(const EventRule& rule, const Equipment& equipment,
                            const SchoolOptions& options) {
  if (auto fine = CheckRule(rule); !fine) return tl::unexpected(fine.error());
  if (!(options.beyond_share >= 0.01 && options.beyond_share <= 0.5)) {
    return Fail(ErrorCode::kBadValue,
                "The share of children beyond the limit must lie between 0.01 and 0.5.");
  }
  if (options.simulated < 100 || options.children < 1) {
    return Fail(ErrorCode::kBadValue, "At least 100 children must be simulated, and stated for 1.");
  }
  std::mt19937_64 random(options.seed);
  std::normal_distribution<> normal;
  const Length corneal = CornealBehindSpectacle();
  const EstimateOptions estimate = OptionsOf(rule, std::nullopt);
  const double limit = (estimate.cut_off - corneal).mm();
  const StoppingPlan plan = PlanOf(rule);
  const SpreadPrior prior;  // of the scatter between trials: what the estimate itself expects
  Yield sum;
  for (const double truth : School(limit, options, random)) {
    const double spread = prior.median_mm * std::exp(prior.log_sd * normal(random));
    const double scale = 1 + equipment.shared.relative_sd * normal(random);
    const double zero = equipment.shared.offset_sd.mm() * normal(random);
    const double mean = truth + corneal.mm();
    std::vector<Trial> trials;
    NextStep next;
    do {
      const double real = mean + spread * normal(random);
      const double read = scale * real + zero + equipment.trial_sd_mm * normal(random);
      trials.push_back(SimulatedTrial(static_cast<int>(trials.size()) + 1, read, equipment));
      next = AdviseNextStep(trials, equipment.shared, estimate, plan);
    } while (next.advice == Advice::kContinue);
    const bool beyond = truth > limit;
    const Finding finding =
        Judge(rule, next.estimate.trials_used, next.estimate.probability_beyond);
    sum.beyond += beyond;
    sum.referred += finding == Finding::kSeeProfessional;
    sum.referred_wrong += finding == Finding::kSeeProfessional && !beyond;
    sum.missed += finding == Finding::kWithin && beyond;
    sum.again += finding == Finding::kMeasureAgain;
    sum.again_beyond += finding == Finding::kMeasureAgain && beyond;
    sum.trials += static_cast<double>(trials.size());
  }
  const double count = options.simulated;
  const double each = options.children / count;
  for (double* number : {&sum.beyond, &sum.referred, &sum.referred_wrong, &sum.missed, &sum.again,
                         &sum.again_beyond}) {
    *number *= each;
  }
  sum.trials /= count;
  // Of a proportion of one half, the worst.
  sum.error = options.children * std::sqrt(0.25 / count);
  return sum;
}

}  // namespace nearpoint
