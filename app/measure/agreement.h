// Whether the patient's report and the eyes tell the same story, per trial and per session, with
// plain sentences for the clinician. A finding of the measurement, never a diagnosis.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/measure/objective_break.h"
#include "app/measure/trial.h"
#include "vision/core/units.h"

namespace nearpoint {

enum class Agreement {
  kBothBroke,           // drift and report, within the lag that a person may have
  kNeitherBroke,        // no drift, and "single down to the nearest point"
  kReportWithoutDrift,  // "double", and a drift would have been seen
  kDriftWithoutReport,  // an eye turned out and nothing was reported: possible suppression
  kApart,               // drift and report too far apart to be the same event
  kCannotTell,          // the eyes were not seen well enough, or the trial does not count
};
[[nodiscard]] std::string_view ToText(Agreement agreement);  // "agree", "report without drift"...
[[nodiscard]] constexpr bool Disagrees(Agreement a) {
  return a == Agreement::kReportWithoutDrift || a == Agreement::kDriftWithoutReport ||
         a == Agreement::kApart;
}

struct TrialAgreement {
  int trial = 0;
  Agreement agreement = Agreement::kCannotTell;
  std::optional<Time> break_lag;     // press less onset of the drift; negative: pressed before it
  std::optional<Time> recovery_lag;  // likewise for "single" and the return
  std::string sentence;
};

struct AgreementOptions {
  // The same event: reaction to a visible change takes 0.2 to 1 s; a patient may see two before the
  // drift is large enough to be seen.
  Time earliest = FromMilliseconds(-700);
  Time latest = FromMilliseconds(2000);
  // A report stands alone only where a drift of this size would have been seen.
  Angle visible = Angle::Degrees(5);
  // Session flag: this share of the trials that can be judged, and at least one.
  double flagged_share = 0.34;
};

[[nodiscard]] TrialAgreement CompareReport(const Trial& trial, const ObjectiveResult& objective,
                                           const AgreementOptions& options = {});

struct SessionAgreement {
  int both = 0, neither = 0, report_only = 0, drift_only = 0, apart = 0, unknown = 0;
  std::optional<Time> median_break_lag, median_recovery_lag;
  std::optional<Time> break_lag_spread;  // robust deviation; from three trials
  bool flagged = false;                  // reports and eyes disagree: for the clinician to judge
  std::vector<std::string> sentences;
};

[[nodiscard]] SessionAgreement CompareSession(std::span<const TrialAgreement> trials,
                                              const AgreementOptions& options = {});

}  // namespace nearpoint
