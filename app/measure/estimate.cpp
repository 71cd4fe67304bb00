#include "app/measure/estimate.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "app/measure/answer.h"
#include "app/measure/likelihood.h"
#include "app/measure/normal.h"
#include "app/measure/observations.h"
#include "app/measure/posterior.h"

namespace nearpoint {
namespace {

// Beside the target's place, the corneal plane itself: how well the corners' depth behind it is
// known (one deviation).
constexpr double kCornealPlaneSd = 1.0;

// A spread no publication comes near (section of posterior.h): more than twice the larger of the
// two.
constexpr double kUnusualSpread = 20.0;

// Where an approach should begin; nearer counts, with a caution.
constexpr Length kUsualStart = Length::Millimeters(300);

// What the trials say of one mean, before the shared calibration.
struct MeanBand {
  double value = 0, low = 0, high = 0;
};

MeanBand BandOf(const Mixture& mixture, double level) {
  return {mixture.Quantile(0.5), mixture.Quantile((1 - level) / 2),
          mixture.Quantile((1 + level) / 2)};
}

// Widens each side by an independent deviation, in quadrature (the method of variance estimates
// recovery of Zou & Donner, Stat Med 2008;27:1693-1702, which keeps a skewed interval skewed).
MeanBand Widen(const MeanBand& band, double half_width) {
  return {band.value, band.value - std::hypot(band.value - band.low, half_width),
          band.value + std::hypot(band.high - band.value, half_width)};
}

MeanBand Add(const MeanBand& a, const MeanBand& b) {
  return {a.value + b.value, a.value + b.value - std::hypot(a.value - a.low, b.value - b.low),
          a.value + b.value + std::hypot(a.high - a.value, b.high - b.value)};
}

class Estimator {
 public:
  Estimator(std::span<const Trial> trials, const SharedCalibration& shared,
            const EstimateOptions& options)
      : trials_(trials), shared_(shared), options_(options) {
    z_ = NormalQuantile((1 + options.level) / 2);
    shift_ = MoveToPlane(Length(), ReferencePlane::kCorneal, options.plane).mm();
    result_.cut_off = options.cut_off;
    result_.reference_plane = ToText(options.plane);
    for (const Trial& trial : trials) {
      if (Counts(trial)) {
        usable_.push_back(&trial);
      } else {
        ++not_usable_;
      }
    }
  }

  Estimate Run() {
    if (not_usable_ > 0) {
      Caution(std::to_string(not_usable_) + (not_usable_ == 1
                                                 ? " trial does not count and is left out."
                                                 : " trials do not count and are left out."));
    }
    if (usable_.empty()) {
      Caution("No trial counts, so there is no near point: measure again.");
      return std::move(result_);
    }
    Prepare();
    if (result_.trials_censored_below == result_.trials_used) {
      BoundBelow();
    } else if (result_.trials_censored_above == result_.trials_used) {
      BoundAbove();
    } else {
      EstimateBreak();
      EstimateRecovery();
    }
    Decide();
    DescribeTrials();
    return std::move(result_);
  }

 private:
  void Caution(std::string sentence) { result_.cautions.push_back(std::move(sentence)); }

  void Prepare() {
    double number_sum = 0;
    double speed_sum = 0;
    int speeds = 0;
    for (const Trial* trial : usable_) {
      number_sum += trial->number;
      if (trial->approach_speed) {
        speed_sum += std::abs(trial->approach_speed->mm_per_s());
        ++speeds;
      }
    }
    const auto n = static_cast<double>(usable_.size());
    centre_ = number_sum / n;
    mean_speed_ = speeds > 0 ? speed_sum / speeds : 0;
    result_.trials_used = static_cast<int>(usable_.size());
    DescribeLag();
    breaks_ = BreakObservations(trials_);
    for (const Observation& o : breaks_) {
      result_.trials_censored_below += o.censoring == Censoring::kBelow;
      result_.trials_censored_above += o.censoring == Censoring::kAbove;
    }
  }

  // A trial from a ruler has no uncorrected distance beside its value.
  void DescribeLag() {
    double sum = 0;
    int count = 0;
    for (const Trial* trial : usable_) {
      if (trial->censored != Censoring::kNone || !(trial->break_point->uncorrected.mm() > 0))
        continue;
      sum += (trial->break_point->value.value - trial->break_point->uncorrected).mm();
      ++count;
    }
    if (count > 0) result_.lag_correction_mm = sum / count;
  }

  [[nodiscard]] double SharedSd(double distance) const {
    const double lag = mean_speed_ * ToSeconds(shared_.lag_sd);
    return std::hypot(shared_.relative_sd * distance, shared_.offset_sd.mm(), lag);
  }

  // From the corneal plane to the plane of the options; a distance from the corneal plane is not
  // negative.
  [[nodiscard]] Band Show(const MeanBand& band) const {
    return {.value = std::max(0.0, band.value) + shift_,
            .low = std::max(0.0, band.low) + shift_,
            .high = std::max(0.0, band.high) + shift_,
            .level = options_.level};
  }

  void BoundBelow() {
    const double limit = LimitFromBounds(breaks_, (1 - options_.level) / 2);
    double bound = 0;
    for (const Observation& o : breaks_) bound = std::max(bound, o.value);
    result_.shared_sd_mm = SharedSd(bound);
    const double high = bound + std::hypot(std::max(0.0, limit - bound), z_ * result_.shared_sd_mm);
    result_.break_mm = Band{.value = std::nullopt,
                            .low = shift_,
                            .high = std::max({high, limit, 0.0}) + shift_,
                            .level = options_.level};
    result_.probability_beyond =
        OverShared([this](double x) { return ChanceOfBounds(breaks_, std::max(x, 0.0)); });
    Caution(
        "The target stayed single down to the shortest distance in every trial: only a bound of "
        "the near point is known.");
  }

  void BoundAbove() {
    const double limit = LimitFromBounds(breaks_, (1 - options_.level) / 2);
    double bound = breaks_.front().value;
    for (const Observation& o : breaks_) bound = std::min(bound, o.value);
    result_.shared_sd_mm = SharedSd(bound);
    const double low = bound - std::hypot(std::max(0.0, bound - limit), z_ * result_.shared_sd_mm);
    result_.break_mm = Band{.value = std::nullopt,
                            .low = std::max(0.0, std::min(low, limit)) + shift_,
                            .high = std::nullopt,
                            .level = options_.level};
    result_.probability_beyond =
        OverShared([this](double x) { return 1 - ChanceOfBounds(breaks_, x); });
    Caution(
        "The target was double from the start in every trial: only a least distance of the near "
        "point is known.");
  }

  // The mean over the shared error of a probability that depends on the cut-off as measured
  // (Gauss-Hermite, 5 points).
  template <typename Function>
  [[nodiscard]] double OverShared(const Function& probability_at) const {
    constexpr std::array<double, 3> kNodes = {0, 0.95857246461381851, 2.0201828704560856};
    constexpr std::array<double, 3> kWeights = {0.94530872048294188, 0.39361932315224116,
                                                0.019953242059045913};
    const double cut_off = options_.cut_off.mm() - shift_;
    const double scale = std::numbers::sqrt2 * SharedSd(std::max(cut_off, 0.0));
    double sum = kWeights[0] * probability_at(cut_off);
    for (std::size_t i = 1; i < kNodes.size(); ++i) {
      sum += kWeights[i] * (probability_at(cut_off + scale * kNodes[i]) +
                            probability_at(cut_off - scale * kNodes[i]));
    }
    return std::clamp(sum / std::sqrt(std::numbers::pi), 0.0, 1.0);
  }

  void EstimateBreak() {
    const Posterior posterior = IntegratePosterior(breaks_);
    break_trials_ = BandOf(posterior.mean, options_.level);
    result_.shared_sd_mm = SharedSd(std::max(break_trials_.value, 0.0));
    break_ = Widen(break_trials_, z_ * result_.shared_sd_mm);
    result_.break_mm = Show(break_);
    result_.probability_beyond = OverShared([&](double x) { return 1 - posterior.mean.Cdf(x); });

    const auto doubled = std::ranges::count(breaks_, Censoring::kNone, &Observation::censoring);
    if (doubled >= 2) result_.between_trial_sd_mm = posterior.between_sd_median;
    const auto [first, last] = std::ranges::minmax(breaks_, {}, &Observation::position);
    if (result_.trials_used >= 3 && doubled >= 2 && last.position > first.position) {
      EstimateTrend(posterior, first.position, last.position);
    }
  }

  void EstimateTrend(const Posterior& posterior, double first, double last) {
    const MeanBand trend = BandOf(posterior.slope, options_.level);
    result_.trend_mm_per_trial =
        Band{.value = trend.value, .low = trend.low, .high = trend.high, .level = options_.level};
    result_.trend_present = trend.low > 0 || trend.high < 0;
    if (!result_.trend_present) return;
    // Half-widths in the mean's own deviations carry over to the two ends.
    const double mean_variance = posterior.mean.variance();
    const double below = (break_trials_.value - break_trials_.low) / std::sqrt(mean_variance);
    const double above = (break_trials_.high - break_trials_.value) / std::sqrt(mean_variance);
    const auto at = [&](double position) {
      const double sd =
          std::sqrt(std::max(0.0, mean_variance + 2 * position * posterior.mean_slope_covariance +
                                      position * position * posterior.slope.variance()));
      const double value = break_trials_.value + position * trend.value;
      return Show(
          Widen({value, value - below * sd, value + above * sd}, z_ * result_.shared_sd_mm));
    };
    result_.first_break_mm = at(first);
    result_.last_break_mm = at(last);
    Caution(trend.value > 0 ? "The near point recedes from trial to trial: the first and the last "
                              "are given beside the mean."
                            : "The near point comes nearer from trial to trial: the first and the "
                              "last are given beside the mean.");
  }

  // With every break seen, the recoveries stand for themselves. With bounds among the breaks only
  // the doubled trials have a recovery, and those are the ones with the farther breaks: then the
  // gap between the two is estimated and added to the break, which does know of the others.
  void EstimateRecovery() {
    std::vector<Observation> recoveries;
    std::vector<Observation> gaps;
    for (const Trial* trial : usable_) {
      if (!trial->recovery || !std::isfinite(trial->recovery->value.value.mm())) continue;
      Observation o;
      o.position = trial->number - centre_;
      o.value = trial->recovery->value.value.mm();
      o.variance = VarianceOf(*trial->recovery);
      recoveries.push_back(o);
      if (trial->censored != Censoring::kNone) continue;
      o.value -= trial->break_point->value.value.mm();
      o.variance += VarianceOf(*trial->break_point);
      gaps.push_back(o);
    }
    const bool by_gap = breaks_.size() > gaps.size() && !gaps.empty() &&
                        result_.trials_censored_below + result_.trials_censored_above > 0;
    std::optional<MeanBand> gap;
    if (!gaps.empty()) gap = BandOf(IntegratePosterior(gaps).mean, options_.level);
    MeanBand trials;
    if (by_gap) {
      trials = Add(break_trials_, *gap);
    } else if (!recoveries.empty()) {
      trials = BandOf(IntegratePosterior(recoveries).mean, options_.level);
    } else {
      Caution("No trial has a recovery.");
      return;
    }
    if (gap && gap->high < 0) {
      Caution(
          "The recovery lies nearer than the break by more than their uncertainty: check that "
          "\"double\" and \"single\" were not exchanged.");
    } else {
      // What is never smaller has no smaller quantile.
      for (double MeanBand::*end : {&MeanBand::low, &MeanBand::value, &MeanBand::high}) {
        trials.*end = std::max(trials.*end, break_trials_.*end);
        if (gap) (*gap).*end = std::max((*gap).*end, 0.0);
      }
    }
    result_.recovery_mm = Show(Widen(trials, z_ * SharedSd(std::max(trials.value, 0.0))));
    if (gap) ShowGap(*gap);
  }

  // The zero falls out of the difference; a wrong lag moves the two ends apart.
  void ShowGap(const MeanBand& gap) {
    const double shared =
        std::hypot(shared_.relative_sd * gap.value, 2 * mean_speed_ * ToSeconds(shared_.lag_sd));
    const MeanBand wide = Widen(gap, z_ * shared);
    const double least = gap.low >= 0 ? 0 : wide.low;
    result_.recovery_minus_break_mm = Band{.value = wide.value,
                                           .low = std::max(wide.low, least),
                                           .high = wide.high,
                                           .level = options_.level};
  }

  void Decide() { result_.answer = AnswerFor(result_.break_mm, options_.cut_off); }

  void DescribeTrials() {
    if (result_.trials_used < 3) {
      Caution(
          "Fewer than three trials count: the band rests mostly on the spread published for "
          "others.");
    }
    const auto near_starts = std::ranges::count_if(usable_, [](const Trial* trial) {
      return trial->start_distance && *trial->start_distance < kUsualStart;
    });
    if (near_starts > 0) {
      Caution(std::to_string(near_starts) + (near_starts == 1 ? " trial" : " trials") +
              " began nearer than 30 cm.");
    }
    const int bounds = result_.trials_censored_below + result_.trials_censored_above;
    if (bounds > 0 && bounds < result_.trials_used) {
      Caution(std::to_string(bounds) + " of " + std::to_string(result_.trials_used) +
              " trials give only a bound and count as such.");
    }
    if (result_.between_trial_sd_mm && *result_.between_trial_sd_mm > kUnusualSpread) {
      Caution("The trials differ from each other far more than is usual.");
    }
  }

  std::span<const Trial> trials_;
  SharedCalibration shared_;
  EstimateOptions options_;
  double z_ = 0;
  double shift_ = 0;
  double centre_ = 0;
  double mean_speed_ = 0;
  int not_usable_ = 0;
  std::vector<const Trial*> usable_;
  std::vector<Observation> breaks_;
  MeanBand break_trials_, break_;
  Estimate result_;
};

}  // namespace

SharedCalibration SharedFromProfile(double focal_rel_sd, Length target_sd,
                                    double personal_scale_rel_sd) {
  SharedCalibration shared;
  shared.relative_sd = std::hypot(focal_rel_sd, personal_scale_rel_sd);
  shared.offset_sd = Length::Millimeters(std::hypot(target_sd.mm(), kCornealPlaneSd));
  return shared;
}

Answer AnswerFor(const std::optional<Band>& break_mm, Length cut_off) {
  if (!break_mm) return Answer::kCannotTell;
  if (break_mm->low > cut_off.mm()) return Answer::kBeyond;
  if (break_mm->high && *break_mm->high < cut_off.mm()) return Answer::kWithin;
  return Answer::kCannotTell;
}

Estimate EstimateNearPoint(std::span<const Trial> trials, const SharedCalibration& shared,
                           const EstimateOptions& options) {
  return Estimator(trials, shared, options).Run();
}

}  // namespace nearpoint
