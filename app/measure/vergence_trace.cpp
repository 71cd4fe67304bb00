#include "app/measure/vergence_trace.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "app/measure/planes.h"
#include "app/measure/robust.h"

namespace nearpoint {
namespace {

constexpr int kNeighbours = 3;             // to each side, for a wild frame
constexpr double kNeighbourReachS = 0.3;   // and not farther than this
constexpr std::size_t kFewFrames = 30;     // too few to tell a glance from the rest
constexpr double kNearDistanceMm = 100.0;  // scale of the 1 / distance term

std::optional<VergenceFrame> Read(const DistanceSample& s) {
  if (s.mode == TrackMode::kLost || !s.distance || !s.vergence || !s.demand || !s.left_eye ||
      !s.right_eye || !s.left_eye->rotation || !s.right_eye->rotation) {
    return std::nullopt;
  }
  const EyeRotation& left = *s.left_eye->rotation;
  const EyeRotation& right = *s.right_eye->rotation;
  VergenceFrame f;
  f.vergence_deg = s.vergence->deg();
  f.left_deg = left.horizontal.deg();
  f.right_deg = right.horizontal.deg();
  f.vertical_deg = 0.5 * (left.vertical.deg() + right.vertical.deg());
  f.demand_deg = s.demand->deg();
  f.distance_mm = s.distance->value.mm();
  if (s.vergence_sd && std::isfinite(s.vergence_sd->deg())) {
    f.reported_sd_deg = std::max(0.0, s.vergence_sd->deg());
  }
  // var(left - right) = 2 var(left) + 2 var(right) - var(left + right).
  const double left_sd = left.horizontal_sd.deg();
  const double right_sd = right.horizontal_sd.deg();
  const double split =
      2 * left_sd * left_sd + 2 * right_sd * right_sd - f.reported_sd_deg * f.reported_sd_deg;
  if (std::isfinite(split)) f.split_sd_deg = std::sqrt(std::max(0.0, split));
  if (s.head) {
    f.yaw_deg = s.head->yaw.deg();
    f.pitch_deg = s.head->pitch.deg();
  }
  if (s.eye_mid_mm && f.distance_mm > 0) {
    // The eyes turn about centres behind the corneal plane.
    const double turning_mm =
        f.distance_mm +
        (BehindSpectacle(ReferencePlane::kCentreOfRotation) - CornealBehindSpectacle()).mm();
    f.sideways = s.eye_mid_mm->x() / turning_mm;
    f.upward = s.eye_mid_mm->y() / turning_mm;
  }
  const bool finite = std::isfinite(f.vergence_deg) && std::isfinite(f.left_deg) &&
                      std::isfinite(f.right_deg) && std::isfinite(f.vertical_deg) &&
                      std::isfinite(f.demand_deg) && std::isfinite(f.distance_mm) &&
                      std::isfinite(f.yaw_deg) && std::isfinite(f.pitch_deg) &&
                      std::isfinite(f.sideways) && std::isfinite(f.upward);
  if (!finite || f.distance_mm <= 0) return std::nullopt;
  return f;
}

void Remove(std::vector<VergenceFrame>& frames, const std::vector<char>& drop, int& count) {
  std::vector<VergenceFrame> kept;
  for (std::size_t i = 0; i < frames.size(); ++i) {
    if (drop[i] != 0) {
      ++count;
    } else {
      kept.push_back(frames[i]);
    }
  }
  frames = std::move(kept);
}

void RemoveWild(VergenceTrace& trace, const TraceOptions& options) {
  const auto& frames = trace.frames;
  std::vector<char> drop(frames.size(), 0);
  for (std::size_t i = 0; i < frames.size(); ++i) {
    std::vector<double> around;
    const std::size_t from = i < kNeighbours ? 0 : i - kNeighbours;
    for (std::size_t k = from; k < std::min(frames.size(), i + kNeighbours + 1); ++k) {
      if (std::abs(frames[k].time_s - frames[i].time_s) > kNeighbourReachS) continue;
      around.push_back(frames[k].vergence_deg - frames[k].demand_deg);
    }
    if (around.size() < 4) continue;
    const double median = MedianOf(around);
    const double spread = RobustSpread(around);
    const double off = std::abs(frames[i].vergence_deg - frames[i].demand_deg - median);
    drop[i] = off > std::max(options.wild_deviations * spread, options.wild_least.deg()) ? 1 : 0;
  }
  Remove(trace.frames, drop, trace.wild);
}

// A glance: the mean direction of the eyes leaves what head and target ask of it. Head turns, the
// eyes beside the lens, and the target beside the lens (which matters as 1 / distance) explain it
// otherwise.
void RemoveGlances(VergenceTrace& trace, const TraceOptions& options) {
  const auto& frames = trace.frames;
  if (frames.size() < kFewFrames) return;
  const auto n = static_cast<Eigen::Index>(frames.size());
  Eigen::MatrixXd sideways_terms(n, 4);
  Eigen::MatrixXd vertical_terms(n, 4);
  Eigen::VectorXd sideways(n);
  Eigen::VectorXd vertical(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const VergenceFrame& f = frames[static_cast<std::size_t>(i)];
    const double near = kNearDistanceMm / f.distance_mm;
    sideways_terms.row(i) << 1, f.yaw_deg, f.sideways * 50, near;
    vertical_terms.row(i) << 1, f.pitch_deg, f.upward * 50, near;
    sideways[i] = 0.5 * (f.left_deg - f.right_deg);
    vertical[i] = f.vertical_deg;
  }
  const Eigen::VectorXd beside = RobustResiduals(sideways_terms, sideways);
  const Eigen::VectorXd above = RobustResiduals(vertical_terms, vertical);
  const double sideways_limit =
      std::max(options.glance_sideways.deg(),
               4 * RobustSpread({beside.data(), static_cast<std::size_t>(n)}));
  const double vertical_limit = std::max(
      options.glance_vertical.deg(), 4 * RobustSpread({above.data(), static_cast<std::size_t>(n)}));

  std::vector<char> drop(frames.size(), 0);
  const double margin = ToSeconds(options.glance_margin);
  for (std::size_t i = 0; i < frames.size(); ++i) {
    const auto at = static_cast<Eigen::Index>(i);
    if (std::abs(beside[at]) < sideways_limit && std::abs(above[at]) < vertical_limit) continue;
    for (std::size_t k = i; frames[i].time_s - frames[k].time_s <= margin; --k) {
      drop[k] = 1;
      if (k == 0) break;
    }
    for (std::size_t k = i; k < frames.size() && frames[k].time_s - frames[i].time_s <= margin;
         ++k) {
      drop[k] = 1;
    }
  }
  Remove(trace.frames, drop, trace.looked_away);
}

}  // namespace

VergenceTrace CleanTrace(std::span<const DistanceSample> samples, const TraceOptions& options) {
  VergenceTrace trace;
  if (samples.empty()) return trace;
  trace.origin = samples.front().time;
  std::vector<Time> closed;
  for (const DistanceSample& s : samples) {
    if (s.why == LostReason::kEyesClosed || s.why == LostReason::kEyesHalfClosed)
      closed.push_back(s.time);
  }
  for (const DistanceSample& s : samples) {
    std::optional<VergenceFrame> frame = Read(s);
    if (!frame) continue;
    const auto next = std::ranges::lower_bound(closed, s.time - options.blink_margin);
    if (next != closed.end() && *next <= s.time + options.blink_margin) {
      ++trace.near_blink;
      continue;
    }
    if (std::abs(frame->yaw_deg) > options.max_yaw.deg()) {
      ++trace.head_turned;
      continue;
    }
    frame->time_s = ToSeconds(s.time - trace.origin);
    // Two frames of one moment would make the noise between them singular.
    if (!trace.frames.empty() && frame->time_s <= trace.frames.back().time_s) continue;
    trace.frames.push_back(*frame);
  }
  RemoveGlances(trace, options);
  RemoveWild(trace, options);
  return trace;
}

}  // namespace nearpoint
