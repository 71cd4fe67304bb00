#include "app/measure/agreement.h"

#include <cmath>
#include <cstdio>
#include <utility>

#include "app/measure/robust.h"
#include "app/measure/shown_number.h"

namespace nearpoint {
namespace {

constexpr std::size_t kEnoughForSpread = 3;

std::string Where(const std::optional<ObjectiveEvent>& event) {
  if (!event || !event->distance) return "";
  char text[32];
  std::snprintf(text, sizeof text, " at %s", ShownCentimeters(event->distance->value.mm()).c_str());
  return text;
}

std::string Capitalised(std::string_view text) {
  std::string out(text);
  if (!out.empty() && out[0] >= 'a' && out[0] <= 'z')
    out[0] = static_cast<char>(out[0] - 'a' + 'A');
  return out;
}

std::string BothSentence(const ObjectiveResult& objective, Time lag, bool apart) {
  char text[200];
  const double seconds = ToSeconds(lag);
  std::snprintf(text, sizeof text, "%s turned outward%s and \"double\" was reported %.1f s %s%s.",
                Capitalised(ToText(objective.eye)).c_str(), Where(objective.break_point).c_str(),
                std::abs(seconds), seconds < 0 ? "before it" : "later",
                apart ? ", too far apart to be the same event" : "");
  return text;
}

std::string Plural(int count, const char* one, const char* many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::optional<Time> MedianTime(const std::vector<double>& seconds) {
  if (seconds.empty()) return std::nullopt;
  return FromMilliseconds(1e3 * MedianOf(seconds));
}

}  // namespace

std::string_view ToText(Agreement agreement) {
  switch (agreement) {
    case Agreement::kBothBroke:
      return "agree";
    case Agreement::kNeitherBroke:
      return "agree: no break";
    case Agreement::kReportWithoutDrift:
      return "report without drift";
    case Agreement::kDriftWithoutReport:
      return "drift without report";
    case Agreement::kApart:
      return "apart";
    case Agreement::kCannotTell:
      return "cannot tell";
  }
  return "";
}

TrialAgreement CompareReport(const Trial& trial, const ObjectiveResult& objective,
                             const AgreementOptions& options) {
  TrialAgreement out;
  out.trial = trial.number;
  if (objective.set_aside) {
    out.sentence = objective.fixation.sentence;
    return out;
  }
  const std::optional<EventDistance>& reported = trial.break_point;
  const std::optional<ObjectiveEvent>& seen = objective.break_point;
  if (trial.recovery && objective.recovery) {
    out.recovery_lag = trial.recovery->time - objective.recovery->time;
  }
  if (seen && reported) {
    out.break_lag = reported->time - seen->time;
    // Where the moment of the drift is less sure, more is allowed.
    const Time slack = 2 * seen->time_sd;
    const bool same =
        *out.break_lag >= options.earliest - slack && *out.break_lag <= options.latest + slack;
    out.agreement = same ? Agreement::kBothBroke : Agreement::kApart;
    out.sentence = BothSentence(objective, *out.break_lag, !same);
    return out;
  }
  if (seen) {
    // A report whose distance was lost is a report all the same.
    if (trial.set_aside && *trial.set_aside == SetAside::kTrackingLost) {
      out.sentence = "The eyes were not seen when the report was made.";
      return out;
    }
    out.agreement = Agreement::kDriftWithoutReport;
    out.sentence =
        Capitalised(ToText(objective.eye)) + " turned outward" + Where(seen) +
        " and no doubling was reported; whether the image of one eye was suppressed, the "
        "camera cannot tell.";
    return out;
  }
  if (!objective.RulesOut(options.visible)) {
    out.sentence = "The eyes were not seen well enough to tell whether one of them turned outward.";
    return out;
  }
  if (reported) {
    out.agreement = Agreement::kReportWithoutDrift;
    char text[160];
    std::snprintf(text, sizeof text,
                  "\"Double\" was reported at %s and no eye turned outward by as much as %.0f "
                  "degrees.",
                  ShownCentimeters(reported->value.value.mm()).c_str(), options.visible.deg());
    out.sentence = text;
    return out;
  }
  if (trial.censored == Censoring::kBelow) {
    out.agreement = Agreement::kNeitherBroke;
    out.sentence = "No doubling was reported and no eye turned outward.";
    return out;
  }
  out.sentence = "Nothing was reported and no eye turned outward.";
  return out;
}

SessionAgreement CompareSession(std::span<const TrialAgreement> trials,
                                const AgreementOptions& options) {
  SessionAgreement out;
  std::vector<double> break_lags;
  std::vector<double> recovery_lags;
  for (const TrialAgreement& t : trials) {
    switch (t.agreement) {
      case Agreement::kBothBroke:
        ++out.both;
        if (t.break_lag) break_lags.push_back(ToSeconds(*t.break_lag));
        if (t.recovery_lag) recovery_lags.push_back(ToSeconds(*t.recovery_lag));
        break;
      case Agreement::kNeitherBroke:
        ++out.neither;
        break;
      case Agreement::kReportWithoutDrift:
        ++out.report_only;
        break;
      case Agreement::kDriftWithoutReport:
        ++out.drift_only;
        break;
      case Agreement::kApart:
        ++out.apart;
        break;
      case Agreement::kCannotTell:
        ++out.unknown;
        break;
    }
  }
  out.median_break_lag = MedianTime(break_lags);
  out.median_recovery_lag = MedianTime(recovery_lags);
  if (break_lags.size() >= kEnoughForSpread) {
    out.break_lag_spread = FromMilliseconds(1e3 * RobustSpread(break_lags));
  }
  const int disagree = out.report_only + out.drift_only + out.apart;
  const int judged = out.both + out.neither + disagree;
  out.flagged = disagree > 0 && disagree >= options.flagged_share * judged;

  if (judged == 0) {
    out.sentences.emplace_back("In no trial could the report be compared with the eyes.");
    return out;
  }
  out.sentences.push_back("Report and eyes agree in " + std::to_string(out.both + out.neither) +
                          " of " + Plural(judged, "trial", "trials") + " that can be judged.");
  if (out.median_break_lag) {
    char text[120];
    std::snprintf(text, sizeof text, "\"Double\" came %.2f s after the eye began to turn (median).",
                  ToSeconds(*out.median_break_lag));
    out.sentences.emplace_back(text);
  }
  if (out.drift_only > 0) {
    out.sentences.push_back("In " + Plural(out.drift_only, "trial", "trials") +
                            " an eye turned outward and nothing was reported; whether the image of "
                            "one eye was suppressed, the camera cannot tell.");
  }
  if (out.report_only > 0) {
    out.sentences.push_back("In " + Plural(out.report_only, "trial", "trials") +
                            " \"double\" was reported and no eye turned outward.");
  }
  if (out.apart > 0) {
    out.sentences.push_back("In " + Plural(out.apart, "trial", "trials") +
                            " report and turn of the eye were too far apart to be one event.");
  }
  if (out.unknown > 0) {
    out.sentences.push_back("In " + Plural(out.unknown, "trial", "trials") +
                            " they could not be compared.");
  }
  if (out.flagged) {
    out.sentences.emplace_back(
        "The reports and the eyes disagree: judge the near point from the eyes, or repeat the "
        "measurement with the wording explained again.");
  }
  return out;
}

}  // namespace nearpoint
