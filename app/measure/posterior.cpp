#include "app/measure/posterior.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "app/measure/bound_prior.h"
#include "app/measure/normal.h"

namespace nearpoint {
namespace {

// Nodes of tau: even steps of the logarithm over five prior deviations to each side. The integrand
// is smooth and falls to nothing at both ends, where the plain sum converges faster than any power
// of the step.
constexpr int kSpreadNodes = 21;
constexpr double kSpreadReach = 5;

// Steps of the mean about its mode, in conditional deviations, for censored data. Skewed at most as
// the logarithm of a normal integral, so the reach covers 1e-8 of either tail.
constexpr int kMeanNodes = 35;
constexpr double kMeanReach = 7;

// Gauss-Hermite, five points, for the slope at each mean: exact for a normal slope times a
// polynomial of degree 9.
constexpr std::array<double, 5> kSlopeNodes = {-2.0201828704560856, -0.95857246461381851, 0,
                                               0.95857246461381851, 2.0201828704560856};
constexpr std::array<double, 5> kSlopeWeights = {0.019953242059045913, 0.39361932315224116,
                                                 0.94530872048294188, 0.39361932315224116,
                                                 0.019953242059045913};

// Nodes that hold less than this of the greatest are left out.
constexpr double kNegligibleLog = -14;
// Relative to the mode, this logarithm adds nothing to any sum; a bound this many deviations off
// cuts nothing.
constexpr double kNothingLeft = -30;
constexpr double kSurelyBeyond = 8;
// Over these many nodes the plain sum of a normal peak is good to 1e-3 of its mass.
constexpr int kEnoughNodes = 7;

struct SpreadNode {
  double tau = 0;
  double log_weight = 0;  // prior and, later, the marginal likelihood
  ConditionalMode mode;
};

// The range of log(tau / median) in prior deviations.
struct SpreadRange {
  double low = -kSpreadReach;
  double high = kSpreadReach;
};

std::vector<SpreadNode> MakeSpreadNodes(const SpreadPrior& prior, const SpreadRange& range = {}) {
  std::vector<SpreadNode> nodes(kSpreadNodes);
  for (int i = 0; i < kSpreadNodes; ++i) {
    const double z = range.low + (range.high - range.low) * i / (kSpreadNodes - 1);
    nodes[i].tau = prior.median_mm * std::exp(z * prior.log_sd);
    nodes[i].log_weight = -0.5 * z * z;
  }
  return nodes;
}

// The nodes with the mode at each and, as weight, prior times the normal approximation of the
// marginal likelihood: exact without bounds, close enough with them to tell the negligible.
std::vector<SpreadNode> WeighSpreadNodes(std::span<const Observation> observations,
                                         const PosteriorOptions& options,
                                         const SpreadRange& range) {
  const bool with_slope = options.slope_sd > 0;
  std::vector<SpreadNode> nodes = MakeSpreadNodes(options.spread, range);
  double start = PlainMean(observations);
  // From the widest tau down: its mode is the easiest to find and starts the next search.
  for (auto node = nodes.rbegin(); node != nodes.rend(); ++node) {
    node->mode = FindConditionalMode(observations, node->tau, options.slope_sd, start);
    start = node->mode.mean;
    const ConditionalMode& m = node->mode;
    const double det =
        with_slope ? m.info_mean * m.info_slope - m.info_cross * m.info_cross : m.info_mean;
    node->log_weight +=
        m.log - 0.5 * std::log(det) + (with_slope ? 2 : 1) * 0.5 * std::log(2 * std::numbers::pi);
  }
  return nodes;
}

// Many trials make the spread known better than the first nodes lie apart: then closer ones about
// the peak.
std::vector<SpreadNode> ChooseSpreadNodes(std::span<const Observation> observations,
                                          const PosteriorOptions& options) {
  SpreadRange range;
  std::vector<SpreadNode> nodes;
  for (int refinement = 0; refinement < 8; ++refinement) {
    nodes = WeighSpreadNodes(observations, options, range);
    const double greatest = std::ranges::max(nodes, {}, &SpreadNode::log_weight).log_weight;
    int first = kSpreadNodes;
    int last = -1;
    for (int i = 0; i < kSpreadNodes; ++i) {
      if (nodes[i].log_weight < greatest + kNegligibleLog) continue;
      first = std::min(first, i);
      last = std::max(last, i);
    }
    if (last - first + 1 >= kEnoughNodes) break;
    const double step = (range.high - range.low) / (kSpreadNodes - 1);
    range = {range.low + step * (first - 1), range.low + step * (last + 1)};
  }
  return nodes;
}

// The conditional of the mean and slope at one tau when some observations are bounds: tabulated in
// the mean, the slope integrated at each step about its own conditional centre.
struct Conditional {
  double log_marginal = 0;
  GridDensity mean;
  double slope_mean = 0, slope_variance = 0, covariance = 0;
};

// The uncensored part is quadratic in mean and slope; only the bounds need the normal integral at
// every node.
class Integrand {
 public:
  Integrand(std::span<const Observation> observations, double tau, const PosteriorOptions& options)
      : bound_prior_(options.bound_prior) {
    const double slope_sd = options.slope_sd;
    if (slope_sd > 0) {
      slope2_ = 1 / (slope_sd * slope_sd);
      constant_ = -std::log(slope_sd * std::sqrt(2 * std::numbers::pi));
    }
    for (const Observation& o : observations) {
      const double variance = o.variance + tau * tau;
      if (o.censoring == Censoring::kNone) {
        const double w = 1 / variance;
        constant_ -= 0.5 * (std::log(2 * std::numbers::pi * variance) + w * o.value * o.value);
        mean1_ += w * o.value;
        slope1_ += w * o.value * o.position;
        mean2_ += w;
        cross_ += w * o.position;
        slope2_ += w * o.position * o.position;
      } else {
        const double sign = o.censoring == Censoring::kBelow ? 1 : -1;
        const double scale = sign / std::sqrt(variance);
        bounds_.push_back({o.value * scale, scale, scale * o.position});
        (sign > 0 ? below_ : above_).Add(o.value, variance);
      }
    }
    // A value seen nearer than the bound shows that its trial could go on: no bound cut that one.
    int cut_below = below_.count;
    int cut_above = above_.count;
    for (const Observation& o : observations) {
      if (o.censoring != Censoring::kNone) continue;
      if (below_.count > 0 && o.value > below_.bound()) ++cut_below;
      if (above_.count > 0 && o.value < above_.bound()) ++cut_above;
    }
    const auto count = static_cast<double>(observations.size());
    below_.share = cut_below / count;
    above_.share = cut_above / count;
  }
  // The prior of the mean (bound_prior.h), for the usual bound on each side.
  [[nodiscard]] double Prior(double mean) const {
    double information = 1;
    if (!bound_prior_) return information;
    if (below_.count > 0) {
      information *= below_.Mix(InformationOfMean((below_.bound() - mean) / below_.sd()));
    }
    if (above_.count > 0) {
      information *= above_.Mix(InformationOfMean((mean - above_.bound()) / above_.sd()));
    }
    return std::sqrt(information);
  }
  // The likelihood and the slope's prior.
  [[nodiscard]] double operator()(double mean, double slope, double reference) const {
    const double exponent = constant_ - reference + mean1_ * mean + slope1_ * slope -
                            0.5 * (mean2_ * mean * mean + slope2_ * slope * slope) -
                            cross_ * mean * slope;
    if (exponent < kNothingLeft) return 0;
    double product = std::exp(exponent);
    for (const Bound& b : bounds_) {
      const double z = b.place - b.scale * mean - b.slope_scale * slope;
      if (z < kSurelyBeyond) product *= NormalCdf(z);
    }
    return product;
  }

 private:
  struct Bound {
    double place, scale, slope_scale;
  };
  struct UsualBound {
    int count = 0;
    double bound_sum = 0, variance_sum = 0;
    void Add(double bound, double variance) {
      ++count;
      bound_sum += bound;
      variance_sum += variance;
    }
    double share = 1;  // of the trials that this bound would have cut
    [[nodiscard]] double Mix(double information) const { return 1 - share + share * information; }
    [[nodiscard]] double bound() const { return bound_sum / count; }
    [[nodiscard]] double sd() const { return std::sqrt(variance_sum / count); }
  };
  std::vector<Bound> bounds_;
  UsualBound below_, above_;
  bool bound_prior_ = true;
  double constant_ = 0, mean1_ = 0, slope1_ = 0, mean2_ = 0, cross_ = 0, slope2_ = 0;
};

Conditional IntegrateConditional(std::span<const Observation> observations, const SpreadNode& node,
                                 const PosteriorOptions& options) {
  const ConditionalMode& mode = node.mode;
  const bool with_slope = options.slope_sd > 0;
  const double det = mode.info_mean * mode.info_slope - mode.info_cross * mode.info_cross;
  const double mean_sd =
      with_slope ? std::sqrt(mode.info_slope / det) : 1 / std::sqrt(mode.info_mean);
  const double slope_given_mean_sd = with_slope ? 1 / std::sqrt(mode.info_slope) : 0;
  const double slope_per_mean = with_slope ? -mode.info_cross / mode.info_slope : 0;

  const Integrand integrand(observations, node.tau, options);
  const double step = 2 * kMeanReach / (kMeanNodes - 1) * mean_sd;
  const double first = mode.mean - kMeanReach * mean_sd;
  std::vector<double> density(kMeanNodes, 0.0);
  double s0 = 0, s_mean = 0, s_slope = 0, s_slope2 = 0, s_cross = 0;
  for (int i = 0; i < kMeanNodes; ++i) {
    const double mean = first + i * step;
    const double prior = integrand.Prior(mean);
    if (!with_slope) {
      density[i] = prior * integrand(mean, 0, mode.log);
      s0 += density[i];
      continue;
    }
    const double centre = mode.slope + slope_per_mean * (mean - mode.mean);
    for (std::size_t j = 0; j < kSlopeNodes.size(); ++j) {
      const double x = kSlopeNodes[j];
      const double slope = centre + std::numbers::sqrt2 * slope_given_mean_sd * x;
      const double mass =
          prior * kSlopeWeights[j] * std::exp(x * x) * integrand(mean, slope, mode.log);
      density[i] += mass;
      s_mean += mass * (mean - mode.mean);
      s_slope += mass * (slope - mode.slope);
      s_slope2 += mass * (slope - mode.slope) * (slope - mode.slope);
      s_cross += mass * (slope - mode.slope) * (mean - mode.mean);
    }
    s0 += density[i];
  }
  const double per_slope = with_slope ? std::numbers::sqrt2 * slope_given_mean_sd : 1;
  Conditional result{mode.log + std::log(s0 * step * per_slope), GridDensity(first, step, density)};
  if (with_slope) {
    const double slope_offset = s_slope / s0;
    result.slope_mean = mode.slope + slope_offset;
    result.slope_variance = s_slope2 / s0 - slope_offset * slope_offset;
    result.covariance = s_cross / s0 - slope_offset * s_mean / s0;
  }
  return result;
}

double WeightedMedianSpread(std::span<const std::pair<double, double>> tau_weight) {
  double total = 0;
  for (const auto& [tau, weight] : tau_weight) total += weight;
  double sum = 0;
  double previous_log = 0;
  double previous_sum = 0;
  for (std::size_t i = 0; i < tau_weight.size(); ++i) {
    const auto& [tau, weight] = tau_weight[i];
    const double here = sum + weight / 2;  // the share up to the node itself
    if (here >= total / 2) {
      if (i == 0) return tau;
      const double part = (total / 2 - previous_sum) / (here - previous_sum);
      return std::exp(previous_log + part * (std::log(tau) - previous_log));
    }
    previous_sum = here;
    previous_log = std::log(tau);
    sum += weight;
  }
  return tau_weight.empty() ? 0 : tau_weight.back().first;
}

}  // namespace

Posterior IntegratePosterior(std::span<const Observation> observations,
                             const PosteriorOptions& options) {
  const bool with_slope = options.slope_sd > 0;
  const bool any_bound = std::ranges::any_of(
      observations, [](const Observation& o) { return o.censoring != Censoring::kNone; });

  const std::vector<SpreadNode> nodes = ChooseSpreadNodes(observations, options);
  const double greatest = std::ranges::max(nodes, {}, &SpreadNode::log_weight).log_weight;

  Posterior result;
  std::vector<std::pair<double, double>> tau_weight;
  double total = 0, s_mean = 0, s_slope = 0, s_product = 0;
  for (const SpreadNode& node : nodes) {
    if (node.log_weight < greatest + kNegligibleLog) continue;
    const ConditionalMode& m = node.mode;
    double weight = std::exp(node.log_weight - greatest);
    double mean = m.mean, slope = m.slope, covariance = 0;
    if (!any_bound) {
      const double det = m.info_mean * m.info_slope - m.info_cross * m.info_cross;
      result.mean.AddNormal(
          weight, m.mean, with_slope ? std::sqrt(m.info_slope / det) : 1 / std::sqrt(m.info_mean));
      if (with_slope) {
        result.slope.AddNormal(weight, m.slope, std::sqrt(m.info_mean / det));
        covariance = -m.info_cross / det;
      }
    } else {
      const Conditional c = IntegrateConditional(observations, node, options);
      const double z = std::log(node.tau / options.spread.median_mm) / options.spread.log_sd;
      weight = std::exp(c.log_marginal - 0.5 * z * z - greatest);
      result.mean.AddGrid(weight, c.mean);
      mean = c.mean.mean();
      if (with_slope) {
        result.slope.AddNormal(weight, c.slope_mean, std::sqrt(c.slope_variance));
        slope = c.slope_mean;
        covariance = c.covariance;
      }
    }
    tau_weight.emplace_back(node.tau, weight);
    total += weight;
    s_mean += weight * mean;
    s_slope += weight * slope;
    s_product += weight * (covariance + mean * slope);
  }
  result.between_sd_median = WeightedMedianSpread(tau_weight);
  for (auto& [tau, weight] : tau_weight) weight /= total;
  result.between_sd = std::move(tau_weight);
  if (with_slope) {
    result.mean_slope_covariance = s_product / total - (s_mean / total) * (s_slope / total);
  }
  return result;
}

double ChanceOfBounds(std::span<const Observation> observations, double mean,
                      const SpreadPrior& prior) {
  double sum = 0;
  double total = 0;
  for (const SpreadNode& node : MakeSpreadNodes(prior)) {
    const double weight = std::exp(node.log_weight);
    total += weight;
    if (node.log_weight < kNegligibleLog) continue;
    double product = weight;
    for (const Observation& o : observations) {
      const double sign = o.censoring == Censoring::kBelow ? 1 : -1;
      product *= NormalCdf(sign * (o.value - mean) / std::sqrt(o.variance + node.tau * node.tau));
    }
    sum += product;
  }
  return sum / total;
}

double LimitFromBounds(std::span<const Observation> observations, double chance,
                       const SpreadPrior& prior) {
  const bool below = observations.front().censoring == Censoring::kBelow;
  const auto [least, greatest] = std::ranges::minmax(observations, {}, &Observation::value);
  // The chance runs from 1 to 0 along the direction away from the bounds.
  const double direction = below ? 1 : -1;
  double near = (below ? least.value : greatest.value) - direction * 10 * prior.median_mm;
  double far = (below ? greatest.value : least.value) + direction * 10 * prior.median_mm;
  while (ChanceOfBounds(observations, near, prior) < chance)
    near -= direction * 10 * prior.median_mm;
  while (ChanceOfBounds(observations, far, prior) > chance) far += direction * 10 * prior.median_mm;
  for (int i = 0; i < 60 && std::abs(far - near) > 1e-6; ++i) {
    const double middle = 0.5 * (near + far);
    (ChanceOfBounds(observations, middle, prior) > chance ? near : far) = middle;
  }
  return 0.5 * (near + far);
}

}  // namespace nearpoint
