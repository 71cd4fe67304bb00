#include "app/measure/segment.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>
#include <string>
#include <utility>

#include "app/measure/local_fit.h"

namespace nearpoint {
namespace {

// Distances are smoothed by the median of this many neighbours before their extremes are taken: an
// extreme of raw values would be the worst of the noise.
constexpr std::size_t kMedianWindow = 7;

// The mean speed is over the middle of the approach, between these parts of its fall.
constexpr double kApproachFrom = 0.1;
constexpr double kApproachTo = 0.9;

std::string Name(std::size_t index, const Event& event) {
  char at[64];
  std::snprintf(at, sizeof at, "at %.1f ms", ToMilliseconds(event.time));
  return "event " + std::to_string(index + 1) + " (\"" + std::string(ToText(event.kind)) + "\" " +
         at + ")";
}

tl::unexpected<Error> Bad(std::string message) {
  return Fail(ErrorCode::kBadValue, std::move(message));
}

// What the events say of one trial, before any distance is looked at.
struct Reported {
  Time start{}, end{};
  std::optional<Time> doubled{};  // the first "double"
  std::optional<Time> single{};   // the last "single", if it was the last word
  std::optional<Time> no_double{};
};

Result<std::vector<Reported>> ReadEvents(std::span<const Event> events, Time first, Time last,
                                         Time slack) {
  std::vector<Reported> trials;
  bool open = false;
  bool seen_double = false;  // the state of the target as last reported in this trial
  for (std::size_t i = 0; i < events.size(); ++i) {
    const Event& event = events[i];
    if (i > 0 && event.time < events[i - 1].time) {
      return Bad(Name(i, event) +
                 " is earlier than the event before it; events must be in time order.");
    }
    if (event.time < first - slack) {
      return Bad(Name(i, event) +
                 " is before the first frame; events and frames must share a clock.");
    }
    if (event.kind == EventKind::kTrialStart) {
      if (open)
        return Bad(Name(i, event) + " starts a trial before \"trial_end\" of the one before it.");
      if (event.time > last + slack) {
        return Bad(Name(i, event) +
                   " is after the last frame; events and frames must share a clock.");
      }
      trials.push_back({.start = event.time, .end = event.time});
      open = true;
      seen_double = false;
      continue;
    }
    if (!open)
      return Bad(Name(i, event) + " is outside a trial; \"trial_start\" must come before it.");
    Reported& trial = trials.back();
    trial.end = event.time;
    switch (event.kind) {
      case EventKind::kTrialStart:
        break;
      case EventKind::kDouble:
        if (seen_double)
          return Bad(Name(i, event) + " follows a \"double\" without \"single\" between.");
        if (trial.no_double)
          return Bad(Name(i, event) + " follows \"no_double\" in the same trial.");
        if (!trial.doubled) trial.doubled = event.time;
        trial.single.reset();
        seen_double = true;
        break;
      case EventKind::kSingle:
        if (!seen_double) return Bad(Name(i, event) + " has no \"double\" before it.");
        trial.single = event.time;
        seen_double = false;
        break;
      case EventKind::kNoDouble:
        if (trial.doubled) return Bad(Name(i, event) + " follows \"double\" in the same trial.");
        if (trial.no_double) return Bad(Name(i, event) + " is given twice in the same trial.");
        trial.no_double = event.time;
        break;
      case EventKind::kTrialEnd:
        open = false;
        break;
    }
  }
  // The recording stopped before "trial_end": what the frames still show belongs to the trial.
  if (open) trials.back().end = std::max(trials.back().end, last);
  return trials;
}

bool HasDistance(const DistanceSample& sample) {
  return sample.mode != TrackMode::kLost && sample.distance &&
         std::isfinite(sample.distance->value.mm());
}

std::span<const DistanceSample> Between(std::span<const DistanceSample> samples, Time from,
                                        Time to) {
  const auto begin = std::ranges::lower_bound(samples, from, {}, &DistanceSample::time);
  const auto end = std::ranges::upper_bound(samples, to, {}, &DistanceSample::time);
  if (begin >= end) return {};
  return {begin, end};
}

struct Point {
  Time time{};
  double mm = 0;
};

std::vector<Point> Smooth(std::span<const DistanceSample> samples) {
  std::vector<Point> raw;
  for (const DistanceSample& s : samples) {
    if (HasDistance(s)) raw.push_back({s.time, s.distance->value.mm()});
  }
  std::vector<Point> smooth = raw;
  for (std::size_t i = 0; i < raw.size(); ++i) {
    const std::size_t reach = std::min({kMedianWindow / 2, i, raw.size() - 1 - i});
    std::vector<double> window;
    for (std::size_t k = i - reach; k <= i + reach; ++k) window.push_back(raw[k].mm);
    std::ranges::nth_element(window, window.begin() + static_cast<std::ptrdiff_t>(reach));
    smooth[i].mm = window[reach];
  }
  return smooth;
}

// The largest fall from an earlier to a later point.
double LargestFall(std::span<const Point> points) {
  double highest = -1;
  double fall = 0;
  for (const Point& p : points) {
    highest = std::max(highest, p.mm);
    fall = std::max(fall, highest - p.mm);
  }
  return fall;
}

std::optional<LocalFit> FitAround(std::span<const DistanceSample> window, Time centre) {
  std::vector<FitPoint> points;
  for (const DistanceSample& s : window) {
    if (!HasDistance(s)) continue;
    const double sd = s.distance->sd.mm();
    points.push_back({ToSeconds(s.time - centre), s.distance->value.mm(),
                      std::isfinite(sd) && sd > 0 ? sd : 1.0});
  }
  return FitLocally(points);
}

class TrialReader {
 public:
  TrialReader(std::span<const DistanceSample> samples, const Reported& reported,
              const SegmentOptions& options)
      : samples_(samples), reported_(reported), options_(options) {}

  Trial Read(int number) {
    trial_.number = number;
    trial_.start = reported_.start;
    trial_.end = reported_.end;
    const auto frames = Between(samples_, reported_.start, reported_.end);
    const auto valid = std::ranges::count_if(frames, HasDistance);
    trial_.valid_fraction =
        frames.empty() ? 0 : static_cast<double>(valid) / static_cast<double>(frames.size());
    track_ = Smooth(frames);

    const std::optional<Time> response =
        reported_.doubled ? reported_.doubled : reported_.no_double;
    if (track_.empty()) {
      trial_.set_aside = response ? SetAside::kTrackingLost : SetAside::kNoResponse;
      return trial_;
    }
    DescribeApproach(response.value_or(reported_.end));
    if (reported_.doubled) {
      ReadDouble();
    } else if (reported_.no_double) {
      ReadNoDouble();
    } else {
      trial_.set_aside = LargestFall(track_) < options_.min_approach.mm() ? SetAside::kNoApproach
                                                                          : SetAside::kNoResponse;
    }
    return trial_;
  }

 private:
  // Where the approach to the response began, how near it came and how fast on average.
  void DescribeApproach(Time until) {
    std::vector<Point> way;
    for (const Point& p : track_) {
      if (p.time <= until) way.push_back(p);
    }
    if (way.empty()) return;
    const auto farthest = std::ranges::max_element(way, {}, &Point::mm);
    const auto nearest = std::min_element(
        farthest, way.end(), [](const Point& a, const Point& b) { return a.mm < b.mm; });
    trial_.start_distance = Length::Millimeters(farthest->mm);
    trial_.nearest = Length::Millimeters(nearest->mm);
    const double fall = farthest->mm - nearest->mm;
    if (fall < options_.approach_begun.mm()) return;
    // Only the last stretch decides: how fast the head came through the room beforehand moves no
    // near point.
    const double last = std::min(fall, options_.last_stretch.mm());
    const double from = nearest->mm + (1 - kApproachFrom) * last;
    const double to = nearest->mm + (1 - kApproachTo) * last;
    auto begin = farthest;
    auto end = nearest;
    for (auto p = farthest; p <= nearest; ++p) {
      if (p->mm >= from) begin = p;
    }
    for (auto p = begin; p <= nearest; ++p) {
      if (p->mm <= to) {
        end = p;
        break;
      }
    }
    if (end->time > begin->time) {
      trial_.approach_speed = Length::Millimeters(begin->mm - end->mm) / (end->time - begin->time);
    }
  }

  // The distance when the person perceived what they reported at `event`. Frames outside [earliest,
  // latest] belong to another movement. nullopt when tracking was lost there.
  std::optional<EventDistance> DistanceAt(Time event, Time earliest, Time latest) const {
    const Time perceived = event - options_.lag;
    const Time from = std::max(earliest, perceived - options_.fit_before);
    const Time to = std::min(latest, perceived + options_.fit_after);
    const auto window = Between(samples_, from, to);
    const auto valid = std::ranges::count_if(window, HasDistance);
    const bool near = std::ranges::any_of(window, [&](const DistanceSample& s) {
      return HasDistance(s) && std::chrono::abs(s.time - perceived) <= options_.nearest_valid;
    });
    if (!near || static_cast<double>(valid) <
                     options_.min_valid_fraction * static_cast<double>(window.size())) {
      return std::nullopt;
    }
    const std::optional<LocalFit> fit = FitAround(window, perceived);
    if (!fit) return std::nullopt;

    EventDistance at;
    at.time = event;
    at.value.value = Length::Millimeters(fit->value);
    const double lag_sd = ToSeconds(options_.lag_sd);
    at.value.sd =
        Length::Millimeters(std::hypot(fit->value_sd, fit->slope * lag_sd, fit->slope_sd * lag_sd));
    at.speed = Speed::MillimetersPerSecond(fit->slope);
    const std::optional<LocalFit> at_key =
        FitAround(Between(samples_, std::max(earliest, event - options_.fit_before),
                          std::min(latest, event + options_.fit_after)),
                  event);
    at.uncorrected =
        at_key ? Length::Millimeters(at_key->value) : at.value.value + at.speed * options_.lag;
    return at;
  }

  void ReadDouble() {
    const Time event = *reported_.doubled;
    // The hand turns back after the report, so no later frame belongs to the approach.
    trial_.break_point = DistanceAt(event, reported_.start - options_.fit_before, event);
    if (reported_.single) {
      trial_.recovery = DistanceAt(*reported_.single, event, reported_.end);
    }
    if (!trial_.break_point || !trial_.start_distance) {
      trial_.set_aside = SetAside::kTrackingLost;
      return;
    }
    const Length fall_at_key = *trial_.start_distance - trial_.break_point->uncorrected;
    if (fall_at_key < options_.approach_begun) {
      trial_.set_aside = LargestFall(track_) < options_.min_approach.mm()
                             ? SetAside::kNoApproach
                             : SetAside::kResponseEarly;
      return;
    }
    if (*trial_.start_distance - trial_.break_point->value.value < options_.double_from_start) {
      trial_.censored = Censoring::kAbove;
      trial_.limit = trial_.break_point->value.value;
      return;  // the speed does not matter: a late key only makes the bound safer
    }
    if (-trial_.break_point->speed > options_.max_speed_at_event || MeanTooFast()) {
      trial_.set_aside = SetAside::kTooFast;
    }
  }

  void ReadNoDouble() {
    if (!trial_.start_distance || !trial_.nearest) {
      trial_.set_aside = SetAside::kTrackingLost;
      return;
    }
    if (*trial_.start_distance - *trial_.nearest < options_.min_approach) {
      trial_.set_aside = SetAside::kNoApproach;
      return;
    }
    // The nearest distance that was measured: if tracking was lost still nearer, the bound stays
    // true.
    trial_.censored = Censoring::kBelow;
    trial_.limit = trial_.nearest;
    if (MeanTooFast()) trial_.set_aside = SetAside::kTooFast;
  }

  [[nodiscard]] bool MeanTooFast() const {
    return trial_.approach_speed && *trial_.approach_speed > options_.max_mean_speed;
  }

  std::span<const DistanceSample> samples_;
  const Reported& reported_;
  const SegmentOptions& options_;
  std::vector<Point> track_;
  Trial trial_;
};

}  // namespace

Result<std::vector<Trial>> SegmentTrials(std::span<const DistanceSample> samples,
                                         std::span<const Event> events,
                                         const SegmentOptions& options) {
  if (samples.empty()) {
    return Fail(ErrorCode::kInsufficient, "There are no frames, so no trial can be cut from them.");
  }
  for (std::size_t i = 1; i < samples.size(); ++i) {
    if (samples[i].time < samples[i - 1].time) {
      return Bad("frame " + std::to_string(samples[i].frame) +
                 " is earlier than the frame before it; frames must be in time order.");
    }
  }
  const Result<std::vector<Reported>> reported =
      ReadEvents(events, samples.front().time, samples.back().time, options.clock_slack);
  if (!reported) return tl::unexpected(reported.error());

  std::vector<Trial> trials;
  for (const Reported& r : *reported) {
    trials.push_back(TrialReader(samples, r, options).Read(static_cast<int>(trials.size()) + 1));
  }
  return trials;
}

}  // namespace nearpoint
