#include "app/measure/drift_detector.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <utility>
#include <vector>

#include "app/measure/drift_shape.h"
#include "app/measure/excursion.h"
#include "app/measure/robust.h"
#include "app/measure/series_noise.h"

namespace nearpoint {
namespace {

constexpr std::size_t kFewFrames = 30;
constexpr double kCoarseStepS = 0.1;
constexpr double kCoarseRampS = 0.35;
constexpr Eigen::Index kMostCoarse = 500;  // candidate moments; a long trial gets a coarser grid
constexpr double kFineStepS = 0.02;
constexpr double kRampStepS = 0.05;
constexpr double kNoReturnPrior = 0.2;  // that the eye is still out at the end of the trial
constexpr double kGapS = 0.2;           // frames farther apart than this have a gap between them
constexpr int kMostFlicks = 8;
// How the vergence read off a turned head errs, per degree and per degree squared, one deviation.
constexpr double kYawSd = 0.05;
constexpr double kYawSquareSd = 0.005;
constexpr double kNever = -std::numeric_limits<double>::infinity();

using Shape = PriorRegression::Shape;

double LogAdd(double a, double b) {
  const double top = std::max(a, b);
  return std::isinf(top) ? top : top + std::log1p(std::exp(std::min(a, b) - top));
}

DriftShape CoarseShape(double onset_s) {
  return {.onset_s = onset_s, .ramp_s = kCoarseRampS, .form = RampForm::kStraight};
}

enum class Kind {
  kDrift,   // outward, and lasting
  kFlick,   // too short for a loss of fusion
  kInward,  // the other way
};

struct Located {
  Kind kind = Kind::kDrift;
  DriftShape onset;
  std::optional<DriftShape> back;
  double onset_mean_s = 0, onset_sd_s = 0;
  double back_mean_s = 0, back_sd_s = 0;
  Excursion excursion;
};

struct Interval {
  double from_s = 0, to_s = 0;
};

class Detector {
 public:
  Detector(const VergenceTrace& trace, const DriftOptions& options)
      : trace_(trace),
        options_(options),
        prior_{.usual_size = options.usual_size,
               .size_spread = options.size_spread,
               .return_differs = options.return_differs} {}

  DriftFinding Find() {
    DriftFinding finding;
    if (trace_.frames.size() < kFewFrames) return finding;
    Prepare();
    if (end_s_ - begin_s_ < ToSeconds(options_.least_before + options_.least_duration)) {
      return finding;
    }
    Located best = Coarse(&finding.log_evidence);
    finding.smallest_visible = SmallestVisible();
    if (finding.log_evidence < options_.threshold || best.kind == Kind::kInward) return finding;
    if (best.kind == Kind::kFlick) {
      flick_ = {best.onset.onset_s, best.back->onset_s + best.back->ramp_s};
      return finding;
    }
    for (int pass = 0; pass < 2; ++pass) {
      Refine(best, true);
      if (best.back) Refine(best, false);
    }
    Describe(best, finding);
    return finding;
  }

  // When the best account of the trial was a flick.
  [[nodiscard]] const std::optional<Interval>& flick() const { return flick_; }

 private:
  void Prepare() {
    const auto& frames = trace_.frames;
    const auto n = static_cast<Eigen::Index>(frames.size());
    std::vector<double> reported;
    std::vector<double> yaw;
    behind_.resize(n);
    for (const VergenceFrame& f : frames) {
      behind_[static_cast<Eigen::Index>(time_s_.size())] = f.vergence_deg - f.demand_deg;
      time_s_.push_back(f.time_s);
      reported.push_back(f.reported_sd_deg);
      yaw.push_back(f.yaw_deg);
    }
    begin_s_ = time_s_.front();
    end_s_ = time_s_.back();
    whitener_ =
        Whitener(time_s_, EstimateNoise(time_s_, {behind_.data(), time_s_.size()}, reported));
    const double usual_yaw = MedianOf(yaw);
    terms_.resize(n, 4);
    for (Eigen::Index i = 0; i < n; ++i) {
      const VergenceFrame& f = frames[static_cast<std::size_t>(i)];
      const double turned = f.yaw_deg - usual_yaw;
      // The gain is counted from the far end, where the offset is.
      terms_.row(i) << 1, f.demand_deg - frames.front().demand_deg, turned, turned * turned;
    }
    prior_sd_.resize(4);
    prior_sd_ << options_.offset_sd.deg(), options_.gain_sd, kYawSd, kYawSquareSd;
    regression_.emplace(whitener_, terms_, Eigen::VectorXd::Zero(4), prior_sd_, behind_);
  }

  [[nodiscard]] Eigen::VectorXd Whiten(const DriftShape& shape) const {
    return whitener_.Apply(SampleShape(shape, time_s_), FirstTouched(shape, time_s_));
  }
  [[nodiscard]] Shape Prepared(const DriftShape& shape) const {
    return regression_->Prepare(Whiten(shape));
  }

  // All pairs on a coarse grid: the evidence, and the best account of the trial.
  Located Coarse(double* log_evidence) {
    coarse_first_s_ = begin_s_ + ToSeconds(options_.least_before);
    const double span_s = end_s_ - coarse_first_s_;
    coarse_step_s_ = std::max(kCoarseStepS, span_s / static_cast<double>(kMostCoarse));
    const auto count = static_cast<Eigen::Index>(span_s / coarse_step_s_) + 1;
    const auto at = [this](Eigen::Index j) {
      return CoarseShape(coarse_first_s_ + static_cast<double>(j) * coarse_step_s_);
    };
    Eigen::MatrixXd shapes(static_cast<Eigen::Index>(time_s_.size()), count);
    for (Eigen::Index j = 0; j < count; ++j) shapes.col(j) = Whiten(at(j));
    gram_ = regression_->Gram(shapes);
    const Eigen::VectorXd data = regression_->Data(shapes);

    const auto least = std::max<Eigen::Index>(
        1,
        static_cast<Eigen::Index>(std::ceil(ToSeconds(options_.least_duration) / coarse_step_s_)));
    log_pairs_ = std::log(0.5 * static_cast<double>(count) * static_cast<double>(count));
    const double log_pair_prior = std::log(1 - kNoReturnPrior) - log_pairs_;
    const double log_single_prior = std::log(kNoReturnPrior / static_cast<double>(count));
    // Only outward changes of a size that matters, lasting long enough, are evidence; but what is
    // refined is the best account of all, so that a small step, a flick or a turn inward cannot
    // pose as a drift.
    double evidence = kNever;
    double best_log = kNever;
    Located best;
    const auto consider = [&](const Excursion& e, Kind kind, Eigen::Index j,
                              std::optional<Eigen::Index> k) {
      const double log_weight = e.log_factor + (k ? log_pair_prior : log_single_prior);
      if (kind == Kind::kDrift && e.size_deg >= options_.smallest.deg()) {
        evidence = LogAdd(evidence, log_weight);
      }
      if (e.size_deg <= 0 || log_weight <= best_log) return;
      best_log = log_weight;
      best.kind = kind;
      best.excursion = e;
      best.onset = at(j);
      best.back = k ? std::optional(at(*k)) : std::nullopt;
    };
    for (Eigen::Index j = 0; j < count; ++j) {
      for (Eigen::Index k = j + 1; k < count; ++k) {
        const bool lasts = k - j >= least;
        const RampProducts ramps{.data1 = data[j],
                                 .data2 = data[k],
                                 .inner11 = gram_(j, j),
                                 .inner12 = gram_(j, k),
                                 .inner22 = gram_(k, k)};
        consider(Returned(ramps, prior_), lasts ? Kind::kDrift : Kind::kFlick, j, k);
        consider(Returned(Mirrored(ramps), prior_), lasts ? Kind::kInward : Kind::kFlick, j, k);
      }
      if (j + least >= count) continue;
      consider(Unreturned(data[j], gram_(j, j), prior_), Kind::kDrift, j, std::nullopt);
      consider(Unreturned(-data[j], gram_(j, j), prior_), Kind::kInward, j, std::nullopt);
    }
    *log_evidence = std::max(evidence, -log_pairs_);
    best.onset_mean_s = best.onset.onset_s;
    if (best.back) best.back_mean_s = best.back->onset_s;
    return best;
  }

  // Around a coarse onset, and all of a gap in the frames that lies there: within it nothing says
  // when.
  [[nodiscard]] Interval Reach(double onset_s) const {
    const double reach = 2 * coarse_step_s_ + 0.25;
    Interval out{.from_s = onset_s - reach, .to_s = onset_s + reach};
    for (std::size_t i = 1; i < time_s_.size(); ++i) {
      if (time_s_[i] - time_s_[i - 1] < kGapS) continue;
      const double begin = time_s_[i - 1] - ToSeconds(options_.longest_ramp);
      if (begin < onset_s + reach && time_s_[i] > onset_s - reach) {
        out.from_s = std::min(out.from_s, begin);
        out.to_s = std::max(out.to_s, time_s_[i]);
      }
    }
    return out;
  }

  // The posterior of one change's onset over a fine grid of onset, ramp and form, the other change
  // held: its mean, its deviation, and the best shape.
  void Refine(Located& located, bool onset) const {
    const DriftShape centre = onset ? located.onset : *located.back;
    std::optional<Shape> other;
    if (onset && located.back) other = Prepared(*located.back);
    if (!onset) other = Prepared(located.onset);
    const double inner_other = other ? PriorRegression::Inner(*other, *other) : 0;
    const auto excursion = [&](const Shape& s) {
      const double inner = PriorRegression::Inner(s, s);
      if (!other) return Unreturned(s.data, inner, prior_);
      RampProducts ramps{.data1 = s.data,
                         .data2 = other->data,
                         .inner11 = inner,
                         .inner12 = PriorRegression::Inner(s, *other),
                         .inner22 = inner_other};
      if (!onset) {
        std::swap(ramps.data1, ramps.data2);
        std::swap(ramps.inner11, ramps.inner22);
      }
      return Returned(ramps, prior_);
    };
    const Interval reach = Reach(centre.onset_s);
    double sum = 0;
    double mean = 0;
    double square = 0;
    double top = kNever;
    const auto add = [&](const DriftShape& shape) {
      const Excursion e = excursion(Prepared(shape));
      if (e.size_deg <= 0) return;
      if (e.log_factor > top) {
        const double rescale = std::exp(top - e.log_factor);
        sum *= rescale;
        mean *= rescale;
        square *= rescale;
        top = e.log_factor;
        located.excursion = e;
        (onset ? located.onset : *located.back) = shape;
      }
      const double weight = std::exp(e.log_factor - top);
      const double off = shape.onset_s - centre.onset_s;
      sum += weight;
      mean += weight * off;
      square += weight * off * off;
    };
    const auto onsets = static_cast<int>((reach.to_s - reach.from_s) / kFineStepS) + 1;
    const double shortest = ToSeconds(options_.shortest_ramp);
    const auto ramps = std::lround((ToSeconds(options_.longest_ramp) - shortest) / kRampStepS) + 1;
    for (int i = 0; i < onsets; ++i) {
      for (long k = 0; k < ramps; ++k) {
        for (const RampForm form : {RampForm::kStraight, RampForm::kSmooth}) {
          add({.onset_s = reach.from_s + i * kFineStepS,
               .ramp_s = shortest + static_cast<double>(k) * kRampStepS,
               .form = form});
        }
      }
    }
    if (sum <= 0) return;
    mean /= sum;
    const double variance = std::max(0.0, square / sum - mean * mean);
    (onset ? located.onset_mean_s : located.back_mean_s) = centre.onset_s + mean;
    (onset ? located.onset_sd_s : located.back_sd_s) =
        std::sqrt(variance + kFineStepS * kFineStepS / 12);
  }

  // -1 while the eye is out.
  [[nodiscard]] Eigen::VectorXd Course(const Located& located) const {
    Eigen::VectorXd course = -SampleShape(located.onset, time_s_);
    if (located.back) course += SampleShape(*located.back, time_s_);
    return course;
  }

  void Describe(const Located& located, DriftFinding& finding) const {
    const Eigen::VectorXd course = Course(located);
    const Excursion& e = located.excursion;
    // What the measured angles gain on the true ones, from the whole trial with the drift taken
    // off: the drift was measured with the same gain.
    const PriorRegression without(whitener_, terms_, Eigen::VectorXd::Zero(terms_.cols()),
                                  prior_sd_, behind_ - e.size_deg * course);
    const double gain = 1 + without.factors()[1];
    const double gain_sd = std::sqrt(without.covariance()(1, 1));
    const auto change = [gain, gain_sd](double time_s, double time_sd_s, double ramp_s,
                                        double measured_deg, double sd_deg) {
      const double size = measured_deg / gain;
      return VergenceChange{.time_s = time_s,
                            .time_sd_s = time_sd_s,
                            .size = Angle::Degrees(size),
                            .size_sd = Angle::Degrees(std::hypot(sd_deg, size * gain_sd) / gain),
                            .ramp = FromMilliseconds(1e3 * ramp_s)};
    };
    finding.drift = change(located.onset_mean_s, located.onset_sd_s, located.onset.ramp_s,
                           e.size_deg, e.size_sd_deg);
    if (located.back) {
      finding.recovery =
          change(located.back_mean_s, located.back_sd_s, located.back->ramp_s,
                 e.size_deg + e.return_extra_deg, std::hypot(e.size_sd_deg, e.return_sd_deg));
    }
    const NamedEye named = NameDriftingEye(trace_, course, located.onset_mean_s, e.size_deg,
                                           e.size_sd_deg, options_.eye_certain);
    finding.eye = named.eye;
    finding.eye_probability = named.probability;
    finding.glance = named.glance;
    // While the eye was more out than not.
    finding.within_error = finding.drift.size < SureAbove([&course](std::size_t i) {
                             return course[static_cast<Eigen::Index>(i)] < -0.5;
                           });
    finding.found =
        finding.drift.size >= options_.smallest && !finding.glance && !finding.within_error;
  }

  // What a drift must exceed that these frames show, by the tracker's deviation in the middle of
  // them. Infinite where they were seen for less than a drift lasts: what nobody saw within a gap
  // is no drift, and the first pictures after one are the tracker's worst.
  template <typename OfFrame>
  [[nodiscard]] Angle SureAbove(const OfFrame& belongs) const {
    std::vector<double> stated;
    double seen_s = 0;
    for (std::size_t i = 1; i < trace_.frames.size(); ++i) {
      if (!belongs(i)) continue;
      stated.push_back(trace_.frames[i].reported_sd_deg);
      const double step_s = time_s_[i] - time_s_[i - 1];
      if (step_s < kGapS) seen_s += step_s;
    }
    return Angle::Degrees(seen_s < ToSeconds(options_.least_duration)
                              ? std::numeric_limits<double>::infinity()
                              : options_.sure_deviations * MedianOf(stated));
  }

  // A drift at the nearest point that lasts three seconds: the size whose expected evidence meets
  // the threshold.
  [[nodiscard]] std::optional<Angle> SmallestVisible() const {
    const auto nearest = std::ranges::min_element(trace_.frames, {}, &VergenceFrame::distance_mm);
    const auto last = gram_.rows() - 1;
    const auto at = [&](double time_s) {
      return std::clamp<Eigen::Index>(std::lround((time_s - coarse_first_s_) / coarse_step_s_), 0,
                                      last);
    };
    const Eigen::Index j = at(nearest->time_s - 1);
    const Eigen::Index k = at(nearest->time_s + 2);
    if (k <= j) return std::nullopt;
    const Angle sure = SureAbove([&](std::size_t i) {
      return time_s_[i] >= nearest->time_s - 1 && time_s_[i] <= nearest->time_s + 2;
    });
    // The sum over neighbouring pairs adds about the log of those that fit as well.
    constexpr double kLogNeighbours = 2;
    constexpr int kTenthsOfDegree = 200;
    for (int tenth = 0; tenth <= kTenthsOfDegree; ++tenth) {
      const double x = 0.1 * tenth;
      if (Angle::Degrees(x) < std::max(options_.smallest, sure)) continue;
      const Excursion e = Returned({.data1 = -x * (gram_(j, j) - gram_(j, k)),
                                    .data2 = -x * (gram_(j, k) - gram_(k, k)),
                                    .inner11 = gram_(j, j),
                                    .inner12 = gram_(j, k),
                                    .inner22 = gram_(k, k)},
                                   prior_);
      if (e.log_factor + kLogNeighbours - log_pairs_ > options_.threshold) {
        return Angle::Degrees(x);
      }
    }
    return std::nullopt;
  }

  const VergenceTrace& trace_;
  const DriftOptions& options_;
  ExcursionPrior prior_;
  std::vector<double> time_s_;
  double begin_s_ = 0, end_s_ = 0;
  Eigen::MatrixXd terms_;  // offset, gain, turn of the head
  Eigen::VectorXd prior_sd_;
  Eigen::VectorXd behind_;  // vergence less demand, degrees
  Whitener whitener_;
  std::optional<PriorRegression> regression_;
  Eigen::MatrixXd gram_;  // of the coarse ramps
  double coarse_first_s_ = 0, coarse_step_s_ = kCoarseStepS;
  double log_pairs_ = 0;
  std::optional<Interval> flick_;
};

}  // namespace

DriftFinding FindDrift(const VergenceTrace& trace, const DriftOptions& options) {
  VergenceTrace rest = trace;
  DriftFinding finding;
  // What a flick hides is looked for without the flick's frames.
  for (int flicks = 0; flicks <= kMostFlicks; ++flicks) {
    Detector detector(rest, options);
    finding = detector.Find();
    const std::optional<Interval> flick = detector.flick();
    if (!flick) break;
    std::erase_if(rest.frames, [&flick](const VergenceFrame& f) {
      return f.time_s >= flick->from_s && f.time_s <= flick->to_s;
    });
  }
  return finding;
}

}  // namespace nearpoint
