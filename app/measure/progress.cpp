#include "app/measure/progress.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "app/measure/change.h"
#include "app/measure/mixture.h"
#include "app/measure/normal.h"
#include "app/measure/posterior.h"
#include "app/measure/student_t.h"

namespace nearpoint {
namespace {

constexpr double kDaysPerWeek = 7;
constexpr double kSlopeSd = 10;  // mm per week

std::string Clock(double hour) {
  const int minutes = static_cast<int>(std::lround(hour * 60)) % (24 * 60);
  char text[16];
  std::snprintf(text, sizeof text, "%02d:%02d", minutes / 60, minutes % 60);
  return text;
}

// The session at whose hour most others were measured; of equals the earliest day's.
const SessionPoint* UsualTime(std::span<const SessionPoint> sessions) {
  const SessionPoint* usual = nullptr;
  std::ptrdiff_t most = 0;
  for (const SessionPoint& candidate : sessions) {
    if (!candidate.hour) continue;
    const auto near = std::ranges::count_if(
        sessions, [&](const SessionPoint& s) { return s.hour && SameTimeOfDay(candidate, s); });
    if (near > most) {
      most = near;
      usual = &candidate;
    }
  }
  return usual;
}

double Dot(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum;
}

// What is left of the values when their plain line over time is taken away.
std::vector<double> WithoutLine(std::vector<double> values, std::vector<double> time) {
  const auto centre = [](std::vector<double>& list) {
    double mean = 0;
    for (const double x : list) mean += x / static_cast<double>(list.size());
    for (double& x : list) x -= mean;
  };
  centre(values);
  centre(time);
  const double slope = Dot(values, time) / Dot(time, time);
  for (std::size_t i = 0; i < values.size(); ++i) values[i] -= slope * time[i];
  return values;
}

class ProgressEstimator {
 public:
  ProgressEstimator(std::span<const SessionPoint> sessions, const EstimateOptions& options)
      : sessions_(sessions), options_(options), z_(NormalQuantile((1 + options.level) / 2)) {
    shift_ = MoveToPlane(Length(), ReferencePlane::kCorneal, options.plane).mm();
    spread_.spread = DayToDayPrior();
    spread_.slope_sd = kSlopeSd;
    spread_.bound_prior = false;
  }

  Progress Run() {
    Choose();
    Describe();
    const bool any_value = std::ranges::any_of(
        counted_, [](const SessionPoint& p) { return p.censored == Censoring::kNone; });
    if (counted_.empty()) {
      Caution("No session has a trial that counts.");
      return std::move(result_);
    }
    const auto [first, last] = std::ranges::minmax(counted_, {}, &SessionPoint::day);
    result_.weeks = (last.day - first.day) / kDaysPerWeek;
    if (!any_value) {
      Caution("Every session is only a bound: there is no course to draw.");
      return std::move(result_);
    }
    if (last.day - first.day < 1) {
      Caution("All sessions lie within one day: a course needs sessions on different days.");
      return std::move(result_);
    }
    DrawLine(first.day, last.day);
    return std::move(result_);
  }

 private:
  void Caution(std::string sentence) { result_.cautions.push_back(std::move(sentence)); }

  void Choose() {
    const SessionPoint* usual = UsualTime(sessions_);
    int unknown = 0;
    for (const SessionPoint& session : sessions_) {
      SessionOnCourse& on_course = result_.sessions.emplace_back();
      unknown += !session.hour;
      if (usual && !SameTimeOfDay(*usual, session)) {
        on_course.counted = false;
        on_course.why_not = "Measured at " + Clock(*session.hour) +
                            ", more than three hours from the usual " + Clock(*usual->hour) +
                            ": eyes tire over the day.";
        continue;
      }
      counted_.push_back(session);
    }
    result_.sessions_counted = static_cast<int>(counted_.size());
    if (unknown > 0 && usual) {
      Caution("The time of day of " + std::to_string(unknown) +
              (unknown == 1 ? " session is" : " sessions are") +
              " unknown; it is taken as the usual one.");
    } else if (unknown > 0) {
      Caution("The time of day is unknown: morning and evening may be mixed.");
    }
  }

  // The pooled spread of one trial, where the trials show it: with bounds among them they do not.
  void Describe() {
    double squares = 0;
    double degrees = 0;
    for (const SessionPoint& session : counted_) {
      const auto n = static_cast<double>(session.breaks_mm.size());
      if (session.trials != static_cast<int>(session.breaks_mm.size()) || n < 2) continue;
      double mean = 0;
      for (const double value : session.breaks_mm) mean += value / n;
      for (const double value : session.breaks_mm) squares += (value - mean) * (value - mean);
      degrees += n - 1;
    }
    if (degrees > 0) result_.within_session_sd_mm = std::sqrt(squares / degrees);
  }

  [[nodiscard]] std::vector<Observation> ObservationsFrom(std::span<const SessionPoint> sessions,
                                                          double day) const {
    std::vector<Observation> observations;
    for (const SessionPoint& s : sessions) {
      observations.push_back(ObservationOf(s, (s.day - day) / kDaysPerWeek));
    }
    return observations;
  }

  // What different calibrations may put into the slope: the deviations of their errors through the
  // weights of a plain line. Sessions of one calibration share its error; with one alone the
  // weights add up to nothing.
  [[nodiscard]] double CalibrationSlopeSd(std::span<const SessionPoint> sessions) const {
    double mean = 0;
    for (const SessionPoint& s : sessions) mean += s.day / static_cast<double>(sessions.size());
    double squares = 0;
    for (const SessionPoint& s : sessions) squares += (s.day - mean) * (s.day - mean);
    double variance = 0;
    std::vector<bool> done(sessions.size(), false);
    for (std::size_t i = 0; i < sessions.size(); ++i) {
      if (done[i]) continue;
      double weight = 0;
      for (std::size_t k = i; k < sessions.size(); ++k) {
        if (!SameCalibration(sessions[i], sessions[k])) continue;
        done[k] = true;
        weight += (sessions[k].day - mean) / squares * kDaysPerWeek;
      }
      variance += weight * weight * sessions[i].shared_sd_mm * sessions[i].shared_sd_mm;
    }
    return std::sqrt(variance);
  }

  [[nodiscard]] Band BandOf(const Mixture& mixture, double extra_sd) const {
    const double value = mixture.Quantile(0.5);
    const double low = mixture.Quantile((1 - options_.level) / 2);
    const double high = mixture.Quantile((1 + options_.level) / 2);
    return {.value = value,
            .low = value - std::hypot(value - low, z_ * extra_sd),
            .high = value + std::hypot(high - value, z_ * extra_sd),
            .level = options_.level};
  }

  [[nodiscard]] Band SlopeOf(std::span<const SessionPoint> sessions) const {
    const double middle = sessions.front().day;
    const Posterior posterior = IntegratePosterior(ObservationsFrom(sessions, middle), spread_);
    return BandOf(posterior.slope, CalibrationSlopeSd(sessions));
  }

  [[nodiscard]] Mixture LineOn(double day) const {
    return IntegratePosterior(ObservationsFrom(counted_, day), spread_).mean;
  }

  // The line on a day carries the calibration as a whole.
  [[nodiscard]] Band Shown(const Mixture& line) const {
    Band band = BandOf(line, SharedSd());
    for (double* end : {&*band.value, &band.low, &*band.high}) *end = std::max(0.0, *end) + shift_;
    return band;
  }
  [[nodiscard]] double SharedSd() const {
    return std::ranges::max(counted_, {}, &SessionPoint::shared_sd_mm).shared_sd_mm;
  }

  void DrawLine(double first_day, double last_day) {
    const Posterior middle =
        IntegratePosterior(ObservationsFrom(counted_, 0.5 * (first_day + last_day)), spread_);
    const double calibration = CalibrationSlopeSd(counted_);
    const Band slope = BandOf(middle.slope, calibration);
    result_.slope_mm_per_week = slope;
    result_.change_mm = Band{.value = *slope.value * result_.weeks,
                             .low = slope.low * result_.weeks,
                             .high = *slope.high * result_.weeks,
                             .level = slope.level};
    result_.course = *slope.high < 0 ? Course::kNearer
                     : slope.low > 0 ? Course::kFarther
                                     : Course::kNoneShown;
    result_.day_to_day_sd_mm = middle.between_sd_median;
    result_.first_mm = Shown(LineOn(first_day));
    const Mixture last = LineOn(last_day);
    result_.last_mm = Shown(last);
    Decide(last);
    for (std::size_t i = 0; i < sessions_.size(); ++i) {
      result_.sessions[i].line_mm = Shown(LineOn(sessions_[i].day));
    }
    if (counted_.size() < sessions_.size())
      result_.slope_all_hours_mm_per_week = SlopeOf(sessions_);
    DescribeRepeatability();
    DescribeShape();
    DescribeCount(calibration);
  }

  void Decide(const Mixture& last) {
    const double cut_off = options_.cut_off.mm();
    if (result_.last_mm->low > cut_off) result_.answer = Answer::kBeyond;
    if (*result_.last_mm->high < cut_off) result_.answer = Answer::kWithin;
    // One normal step about the cut-off for the calibration, in place of an integral over it.
    const double sd = std::sqrt(last.variance());
    const double stretch = sd / std::hypot(sd, SharedSd());
    const double centre = last.Quantile(0.5);
    result_.probability_beyond = 1 - last.Cdf(centre + (cut_off - shift_ - centre) * stretch);
  }

  void DescribeRepeatability() {
    double own = 0;
    int values = 0;
    for (const SessionPoint& s : counted_) {
      if (s.censored != Censoring::kNone) continue;
      own += s.sd_mm * s.sd_mm;
      ++values;
    }
    result_.repeatability_mm =
        RepeatabilityLimit(std::hypot(*result_.day_to_day_sd_mm, std::sqrt(own / values)));
  }

  // A square term beside the line, by plain least squares: whether it differs from zero at 99 %.
  // Fewer than six values cannot tell a bend from a bad day.
  void DescribeShape() {
    constexpr std::size_t kEnough = 6;
    std::vector<double> time, value;
    for (const SessionPoint& s : counted_) {
      if (s.censored != Censoring::kNone) continue;
      time.push_back((s.day - counted_.front().day) / kDaysPerWeek);
      value.push_back(s.value_mm);
    }
    if (time.size() < kEnough) return;
    std::vector<double> square;
    square.reserve(time.size());
    for (const double t : time) square.push_back(t * t);
    const std::vector<double> bend = WithoutLine(square, time);
    const std::vector<double> rest = WithoutLine(value, time);
    const double bend_squares = Dot(bend, bend);
    if (bend_squares < 1e-9) return;  // two days only
    const double size = Dot(bend, rest) / bend_squares;
    const double degrees = static_cast<double>(time.size()) - 3;
    const double left = Dot(rest, rest) - size * size * bend_squares;
    const double error = std::sqrt(std::max(left, 1e-12) / degrees / bend_squares);
    result_.bent = std::abs(size) > StudentTQuantile(0.995, degrees) * error;
  }

  void DescribeCount(double calibration) {
    if (counted_.size() < 4) {
      Caution(
          "Fewer than four sessions count: the band rests mostly on the day-to-day spread "
          "published for others.");
    }
    if (calibration > 0) {
      Caution(
          "The sessions do not share one calibration: the band holds that each may be wrong on its "
          "own.");
    }
    if (result_.bent) {
      Caution("The sessions do not follow a straight line: look at them one by one.");
    }
  }

  std::span<const SessionPoint> sessions_;
  EstimateOptions options_;
  PosteriorOptions spread_;
  double z_ = 0;
  double shift_ = 0;
  std::vector<SessionPoint> counted_;
  Progress result_;
};

}  // namespace

std::string_view ToText(Course course) {
  switch (course) {
    case Course::kNearer:
      return "the near point comes nearer over the weeks";
    case Course::kFarther:
      return "the near point goes farther away over the weeks";
    case Course::kNoneShown:
      return "no course beyond what repeats give";
    case Course::kCannotTell:
      return "cannot tell";
  }
  return "";
}

Progress EstimateProgress(std::span<const SessionPoint> sessions, const EstimateOptions& options) {
  return ProgressEstimator(sessions, options).Run();
}

}  // namespace nearpoint
