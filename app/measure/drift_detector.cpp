#include "app/measure/drift_detector.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <span>
#include <utility>
#include <vector>

#include "app/measure/drift_shape.h"
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
// How the vergence read off a turned head errs, per degree and per degree squared, one deviation.
constexpr double kYawSd = 0.05;
constexpr double kYawSquareSd = 0.005;
constexpr double kDegPerTangent = 180 / std::numbers::pi;
constexpr double kGapS = 0.2;  // frames farther apart than this have a gap between them
constexpr double kNearEventS = 1;
// Of the error that the tracker states for one eye, the part that may come and go with the drift.
constexpr double kStatedInChange = 0.5;
constexpr double kGlanceSpreadDeg = 20;
constexpr double kGlanceCertain = 0.9;

using Shape = PriorRegression::Shape;

double LogAdd(double a, double b) {
  const double top = std::max(a, b);
  return std::isinf(top) ? top : top + std::log1p(std::exp(std::min(a, b) - top));
}

// One shape with unknown size against its absence, given data (h) and inner product (g): the size
// integrated out under its normal prior.
struct SizePosterior {
  double log_factor = 0;
  double mean = 0;
  double sd = 0;
};
SizePosterior IntegrateSize(double h, double g, double prior_mean, double prior_sd) {
  const double precision = 1 / (prior_sd * prior_sd);
  const double total = g + precision;
  const double pull = h + precision * prior_mean;
  return {.log_factor = 0.5 * (pull * pull / total - precision * prior_mean * prior_mean +
                               std::log(precision / total)),
          .mean = pull / total,
          .sd = 1 / std::sqrt(total)};
}

// The excursion -x r1 + x r2 + d r2, d normal about 0: inner products of the two ramps suffice.
struct Pair {
  double log_factor = -std::numeric_limits<double>::infinity();
  double size = 0, size_sd = 0;            // x
  double return_extra = 0, return_sd = 0;  // d, given x
};
Pair Excursion(double h1, double h2, double g11, double g12, double g22, const DriftOptions& o) {
  const double h = h2 - h1;
  const double g = g11 + g22 - 2 * g12;
  const double cross = g22 - g12;
  const double spread = o.return_differs.deg();
  const double total = g22 + 1 / (spread * spread);
  const SizePosterior size = IntegrateSize(h - cross * h2 / total, g - cross * cross / total,
                                           o.usual_size.deg(), o.size_spread.deg());
  Pair pair;
  pair.log_factor =
      size.log_factor + 0.5 * h2 * h2 / total - 0.5 * std::log(spread * spread * total);
  pair.size = size.mean;
  pair.size_sd = size.sd;
  pair.return_extra = (h2 - cross * size.mean) / total;
  pair.return_sd = 1 / std::sqrt(total);
  return pair;
}
Pair Unreturned(double h1, double g11, const DriftOptions& o) {
  const SizePosterior size = IntegrateSize(-h1, g11, o.usual_size.deg(), o.size_spread.deg());
  return {.log_factor = size.log_factor, .size = size.mean, .size_sd = size.sd};
}

struct Located {
  DriftShape onset;
  std::optional<DriftShape> back;
  double onset_mean_s = 0, onset_sd_s = 0;
  double back_mean_s = 0, back_sd_s = 0;
  Pair pair;
};

class Detector {
 public:
  Detector(const VergenceTrace& trace, const DriftOptions& options)
      : trace_(trace), options_(options) {}

  DriftFinding Find() {
    DriftFinding finding;
    if (trace_.frames.size() < kFewFrames) return finding;
    Prepare();
    if (end_s_ - begin_s_ < ToSeconds(options_.least_before + options_.least_duration)) {
      return finding;
    }
    Located best = Coarse(&finding.log_evidence);
    finding.smallest_visible = SmallestVisible();
    if (finding.log_evidence < options_.threshold) return finding;
    for (int pass = 0; pass < 2; ++pass) {
      Refine(best, true);
      if (best.back) Refine(best, false);
    }
    const PersonalGain gain = GainAround(best);
    const auto change = [&gain](const DriftShape& shape, double time_s, double time_sd_s,
                                double size_deg, double sd_deg) {
      const double size = size_deg / gain.value;
      return VergenceChange{
          .time_s = time_s,
          .time_sd_s = time_sd_s,
          .size = Angle::Degrees(size),
          .size_sd = Angle::Degrees(std::hypot(sd_deg, size * gain.sd) / gain.value),
          .ramp = FromMilliseconds(1e3 * shape.ramp_s)};
    };
    finding.drift =
        change(best.onset, best.onset_mean_s, best.onset_sd_s, best.pair.size, best.pair.size_sd);
    if (best.back) {
      finding.recovery = change(*best.back, best.back_mean_s, best.back_sd_s,
                                best.pair.size + best.pair.return_extra,
                                std::hypot(best.pair.size_sd, best.pair.return_sd));
    }
    NameEye(best, finding);
    finding.found = finding.drift.size >= options_.smallest && !finding.glance;
    return finding;
  }

 private:
  // What the measured angles gain on the true ones, from the whole trial with the drift taken off:
  // the drift was measured with the same gain.
  struct PersonalGain {
    double value = 1;
    double sd = 0;
  };
  [[nodiscard]] PersonalGain GainAround(const Located& located) const {
    const PriorRegression fit(whitener_, terms_, Eigen::VectorXd::Zero(terms_.cols()), prior_sd_,
                              behind_ - located.pair.size * Course(located));
    return {.value = 1 + fit.factors()[1], .sd = std::sqrt(fit.covariance()(1, 1))};
  }
  // -1 while the eye is out.
  [[nodiscard]] Eigen::VectorXd Course(const Located& located) const {
    Eigen::VectorXd course = -SampleShape(located.onset, time_s_);
    if (located.back) course += SampleShape(*located.back, time_s_);
    return course;
  }

  void Prepare() {
    const auto& frames = trace_.frames;
    const auto n = static_cast<Eigen::Index>(frames.size());
    std::vector<double> behind;
    std::vector<double> reported;
    std::vector<double> yaw;
    for (const VergenceFrame& f : frames) {
      time_s_.push_back(f.time_s);
      behind.push_back(f.vergence_deg - f.demand_deg);
      reported.push_back(f.reported_sd_deg);
      yaw.push_back(f.yaw_deg);
    }
    begin_s_ = time_s_.front();
    end_s_ = time_s_.back();
    whitener_ = Whitener(time_s_, EstimateNoise(time_s_, behind, reported));
    const double usual_yaw = MedianOf(yaw);
    terms_.resize(n, 4);
    behind_.resize(n);
    for (Eigen::Index i = 0; i < n; ++i) {
      const VergenceFrame& f = frames[static_cast<std::size_t>(i)];
      const double turned = f.yaw_deg - usual_yaw;
      // The gain is learned about the far end, where the offset is.
      terms_.row(i) << 1, f.demand_deg - frames.front().demand_deg, turned, turned * turned;
      behind_[i] = behind[static_cast<std::size_t>(i)];
    }
    prior_sd_.resize(4);
    prior_sd_ << options_.offset_sd.deg(), options_.gain_sd, kYawSd, kYawSquareSd;
    regression_.emplace(whitener_, terms_, Eigen::VectorXd::Zero(4), prior_sd_, behind_);
  }

  [[nodiscard]] Shape Whitened(const DriftShape& shape) const {
    return regression_->Prepare(
        whitener_.Apply(SampleShape(shape, time_s_), FirstTouched(shape, time_s_)));
  }

  // All pairs on a coarse grid: the evidence, and the best pair to refine.
  Located Coarse(double* log_evidence) {
    const double first = begin_s_ + ToSeconds(options_.least_before);
    const double step = std::max(kCoarseStepS, (end_s_ - first) / static_cast<double>(kMostCoarse));
    const auto count = static_cast<Eigen::Index>((end_s_ - first) / step) + 1;
    Eigen::MatrixXd shapes(static_cast<Eigen::Index>(time_s_.size()), count);
    for (Eigen::Index j = 0; j < count; ++j) {
      const DriftShape shape = CoarseShape(first + static_cast<double>(j) * step);
      shapes.col(j) = whitener_.Apply(SampleShape(shape, time_s_), FirstTouched(shape, time_s_));
    }
    gram_ = regression_->Gram(shapes);
    const Eigen::VectorXd data = regression_->Data(shapes);

    const auto least = std::max<Eigen::Index>(
        1, static_cast<Eigen::Index>(std::ceil(ToSeconds(options_.least_duration) / step)));
    // Only outward changes of a size that matters are evidence; but the best of all sizes is the
    // one refined, so that a small step cannot pose as a large one.
    const double smallest = options_.smallest.deg();
    double returned = -std::numeric_limits<double>::infinity();
    double unreturned = returned;
    double pairs = 0;
    double singles = 0;
    double best_log = returned;
    Located best;
    const auto consider = [&](const Pair& pair, Eigen::Index j, std::optional<Eigen::Index> k,
                              double log_prior) {
      if (pair.size <= 0 || pair.log_factor + log_prior <= best_log) return;
      best_log = pair.log_factor + log_prior;
      best.pair = pair;
      best.onset = CoarseShape(first + static_cast<double>(j) * step);
      best.back.reset();
      if (k) best.back = CoarseShape(first + static_cast<double>(*k) * step);
    };
    log_pairs_ = std::log(0.5 * static_cast<double>(count) * static_cast<double>(count));
    const double log_singles = std::log(static_cast<double>(count));
    for (Eigen::Index j = 0; j < count; ++j) {
      for (Eigen::Index k = j + least; k < count; ++k) {
        const Pair pair =
            Excursion(data[j], data[k], gram_(j, j), gram_(j, k), gram_(k, k), options_);
        ++pairs;
        if (pair.size >= smallest) returned = LogAdd(returned, pair.log_factor);
        consider(pair, j, k, std::log(1 - kNoReturnPrior) - log_pairs_);
      }
      if (j + least >= count) continue;
      const Pair pair = Unreturned(data[j], gram_(j, j), options_);
      ++singles;
      if (pair.size >= smallest) unreturned = LogAdd(unreturned, pair.log_factor);
      consider(pair, j, std::nullopt, std::log(kNoReturnPrior) - log_singles);
    }
    *log_evidence =
        LogAdd(std::log(1 - kNoReturnPrior) + returned - std::log(std::max(pairs, 1.0)),
               std::log(kNoReturnPrior) + unreturned - std::log(std::max(singles, 1.0)));
    if (std::isinf(*log_evidence)) *log_evidence = -log_pairs_;
    coarse_first_s_ = first;
    coarse_step_s_ = step;
    best.onset_mean_s = best.onset.onset_s;
    if (best.back) best.back_mean_s = best.back->onset_s;
    return best;
  }

  static DriftShape CoarseShape(double onset_s) {
    return {.onset_s = onset_s, .ramp_s = kCoarseRampS, .form = RampForm::kStraight};
  }

  // Around a coarse onset, and all of a gap in the frames that lies there: within it nothing says
  // when.
  [[nodiscard]] std::pair<double, double> Reach(double onset_s) const {
    const double reach = 2 * coarse_step_s_ + 0.25;
    double from = onset_s - reach;
    double to = onset_s + reach;
    for (std::size_t i = 1; i < time_s_.size(); ++i) {
      if (time_s_[i] - time_s_[i - 1] < kGapS) continue;
      const double begin = time_s_[i - 1] - ToSeconds(options_.longest_ramp);
      if (begin < onset_s + reach && time_s_[i] > onset_s - reach) {
        from = std::min(from, begin);
        to = std::max(to, time_s_[i]);
      }
    }
    return {from, to};
  }

  // The posterior of one change's onset over a fine grid of onset, ramp and form, the other change
  // held: its mean, its deviation, and the best shape.
  void Refine(Located& located, bool onset) const {
    const DriftShape centre = onset ? located.onset : *located.back;
    std::optional<Shape> other;
    if (onset && located.back) other = Whitened(*located.back);
    if (!onset) other = Whitened(located.onset);
    const auto [from, to] = Reach(centre.onset_s);
    double sum = 0;
    double mean = 0;
    double square = 0;
    double top = -std::numeric_limits<double>::infinity();
    const double inner_other = other ? PriorRegression::Inner(*other, *other) : 0;
    for (double at = from; at <= to; at += kFineStepS) {
      for (double ramp = ToSeconds(options_.shortest_ramp);
           ramp <= ToSeconds(options_.longest_ramp) + 1e-9; ramp += kRampStepS) {
        for (const RampForm form : {RampForm::kStraight, RampForm::kSmooth}) {
          const DriftShape shape{.onset_s = at, .ramp_s = ramp, .form = form};
          const Shape s = Whitened(shape);
          const double inner = PriorRegression::Inner(s, s);
          Pair pair;
          if (!other) {
            pair = Unreturned(s.data, inner, options_);
          } else {
            const double cross = PriorRegression::Inner(s, *other);
            pair = onset ? Excursion(s.data, other->data, inner, cross, inner_other, options_)
                         : Excursion(other->data, s.data, inner_other, cross, inner, options_);
          }
          if (pair.size <= 0) continue;
          if (pair.log_factor > top) {
            const double rescale = std::isinf(top) ? 0 : std::exp(top - pair.log_factor);
            sum *= rescale;
            mean *= rescale;
            square *= rescale;
            top = pair.log_factor;
            located.pair = pair;
            (onset ? located.onset : *located.back) = shape;
          }
          const double weight = std::exp(pair.log_factor - top);
          const double off = at - centre.onset_s;
          sum += weight;
          mean += weight * off;
          square += weight * off * off;
        }
      }
    }
    if (sum <= 0) return;
    mean /= sum;
    const double variance = std::max(0.0, square / sum - mean * mean);
    const double sd = std::sqrt(variance + kFineStepS * kFineStepS / 12);
    (onset ? located.onset_mean_s : located.back_mean_s) = centre.onset_s + mean;
    (onset ? located.onset_sd_s : located.back_sd_s) = sd;
  }

  // Left less right: an outward drift of the left eye lowers it by x, one of the right eye raises
  // it by x, both together leave it, and a glance moves it by any amount. The head's turn and the
  // eyes' place beside the lens move it too, and are terms. Where the tracker cannot tell a turn of
  // the head from a turn of the eyes it says so in the deviation of the single eye, and no eye is
  // named.
  void NameEye(const Located& located, DriftFinding& finding) const {
    const auto& frames = trace_.frames;
    const auto n = static_cast<Eigen::Index>(frames.size());
    Eigen::MatrixXd terms(n, 5);
    Eigen::VectorXd values(n);
    std::vector<double> residual;
    std::vector<double> reported;
    std::vector<double> stated;
    for (Eigen::Index i = 0; i < n; ++i) {
      const VergenceFrame& f = frames[static_cast<std::size_t>(i)];
      values[i] = f.left_deg - f.right_deg;
      const double sideways_deg = kDegPerTangent * f.sideways;
      residual.push_back(values[i] - 2 * f.yaw_deg - 2 * sideways_deg);
      reported.push_back(f.reported_sd_deg);
      terms.row(i) << 1, f.demand_deg, f.yaw_deg, sideways_deg, 100 / f.distance_mm;
      const double from_event = f.time_s - located.onset.onset_s;
      if (std::abs(from_event) < kNearEventS) stated.push_back(f.split_sd_deg);
    }
    Eigen::VectorXd mean = Eigen::VectorXd::Zero(5);
    mean[2] = 2;
    mean[3] = 2;
    Eigen::VectorXd sd(5);
    sd << 10, 0.2, 0.3, 0.3, 10;
    NoiseOptions noise;
    noise.wander_floor_deg = 1.5;
    noise.wander_cap_deg = 10;
    const Whitener whitener(time_s_, EstimateNoise(time_s_, residual, reported, noise));
    const PriorRegression regression(whitener, terms, mean, sd, values);
    const Shape shape =
        regression.Prepare(whitener.Apply(Course(located), FirstTouched(located.onset, time_s_)));
    const double inner = PriorRegression::Inner(shape, shape);
    if (inner <= 0) return;
    const double split = shape.data / inner;
    const double size = located.pair.size;
    const double unsure = stated.empty() ? 0 : kStatedInChange * MedianOf(stated);
    const double variance =
        1 / inner + located.pair.size_sd * located.pair.size_sd + unsure * unsure;
    const auto density = [&](double expected, double spread) {
      const double v = variance + spread * spread;
      return std::exp(-0.5 * (split - expected) * (split - expected) / v) / std::sqrt(v);
    };
    const double settles = 0.15 * size;
    const double left = 0.45 * density(size, settles);
    const double right = 0.45 * density(-size, settles);
    const double both = 0.05 * density(0, settles);
    const double glance = 0.05 * density(0, kGlanceSpreadDeg);
    const double total = left + right + both + glance;
    if (total <= 0) return;
    const auto name = [&](DriftingEye eye, double share) {
      if (share / total <= finding.eye_probability) return;
      finding.eye_probability = share / total;
      finding.eye = eye;
    };
    name(DriftingEye::kLeft, left);
    name(DriftingEye::kRight, right);
    name(DriftingEye::kBoth, both);
    const double beyond_one_eye = size + 3 * std::sqrt(variance + settles * settles);
    finding.glance = glance / total > kGlanceCertain && std::abs(split) > beyond_one_eye;
    if (finding.eye_probability < options_.eye_certain) finding.eye = DriftingEye::kUnclear;
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
    // The sum over neighbouring pairs adds about the log of those that fit as well.
    constexpr double kLogNeighbours = 2;
    for (double x = options_.smallest.deg(); x <= 20; x += 0.1) {
      const double h1 = -x * (gram_(j, j) - gram_(j, k));
      const double h2 = -x * (gram_(j, k) - gram_(k, k));
      const Pair pair = Excursion(h1, h2, gram_(j, j), gram_(j, k), gram_(k, k), options_);
      if (pair.log_factor + kLogNeighbours - log_pairs_ > options_.threshold) {
        return Angle::Degrees(x);
      }
    }
    return std::nullopt;
  }

  const VergenceTrace& trace_;
  const DriftOptions& options_;
  std::vector<double> time_s_;
  double begin_s_ = 0, end_s_ = 0;
  Whitener whitener_;
  std::optional<PriorRegression> regression_;
  Eigen::MatrixXd terms_;  // offset, gain, turn of the head
  Eigen::VectorXd prior_sd_, behind_;
  Eigen::MatrixXd gram_;
  double coarse_first_s_ = 0, coarse_step_s_ = kCoarseStepS;
  double log_pairs_ = 0;
};

}  // namespace

DriftFinding FindDrift(const VergenceTrace& trace, const DriftOptions& options) {
  return Detector(trace, options).Find();
}

}  // namespace nearpoint
