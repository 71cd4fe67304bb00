#include <optional>
#include <string>
#include <string_view>

#include "app/measure/estimate.h"
#include "app/measure/events.h"
#include "app/measure/planes.h"
#include "app/measure/trial.h"

namespace nearpoint {

std::string_view ToText(EventKind kind) {
  switch (kind) {
    case EventKind::kTrialStart:
      return "trial_start";
    case EventKind::kDouble:
      return "double";
    case EventKind::kSingle:
      return "single";
    case EventKind::kNoDouble:
      return "no_double";
    case EventKind::kTrialEnd:
      return "trial_end";
  }
  return "";
}

std::optional<EventKind> ParseEventKind(std::string_view text) {
  for (const EventKind kind : {EventKind::kTrialStart, EventKind::kDouble, EventKind::kSingle,
                               EventKind::kNoDouble, EventKind::kTrialEnd}) {
    if (ToText(kind) == text) return kind;
  }
  return std::nullopt;
}

std::string_view ToText(Censoring censoring) {
  switch (censoring) {
    case Censoring::kNone:
      return "";
    case Censoring::kBelow:
      return "below";
    case Censoring::kAbove:
      return "above";
  }
  return "";
}

std::string_view ToText(SetAside reason) {
  switch (reason) {
    case SetAside::kTooFast:
      return "the approach was too fast";
    case SetAside::kTrackingLost:
      return "the eyes were not seen when the report was made";
    case SetAside::kNoApproach:
      return "the target did not come nearer";
    case SetAside::kResponseEarly:
      return "the report came before the approach began";
    case SetAside::kNoResponse:
      return "no report was made";
    case SetAside::kNotLooking:
      return "the eyes did not follow the target";
    case SetAside::kOneEyeCovered:
      return "one eye was shut or covered during the approach";
    case SetAside::kByHand:
      return "set aside by hand";
  }
  return "";
}

std::optional<SetAside> ParseSetAside(std::string_view text) {
  for (const SetAside reason :
       {SetAside::kTooFast, SetAside::kTrackingLost, SetAside::kNoApproach,
        SetAside::kResponseEarly, SetAside::kNoResponse, SetAside::kNotLooking,
        SetAside::kOneEyeCovered, SetAside::kByHand}) {
    if (ToText(reason) == text) return reason;
  }
  return std::nullopt;
}

std::string SetAsideText(const Trial& trial) {
  if (!trial.set_aside) return "";
  const bool own_words = *trial.set_aside == SetAside::kByHand && !trial.set_aside_words.empty();
  return own_words ? trial.set_aside_words : std::string(ToText(*trial.set_aside));
}

std::string_view ToText(Answer answer) {
  switch (answer) {
    case Answer::kBeyond:
      return "beyond the cut-off";
    case Answer::kWithin:
      return "within the cut-off";
    case Answer::kCannotTell:
      return "cannot tell yet";
  }
  return "";
}

std::string_view ToText(ReferencePlane plane) {
  switch (plane) {
    case ReferencePlane::kCorneal:
      return "corneal plane";
    case ReferencePlane::kSpectacle:
      return "spectacle plane";
    case ReferencePlane::kLateralCanthus:
      return "lateral canthus";
    case ReferencePlane::kCentreOfRotation:
      return "centre of rotation";
  }
  return "";
}

std::optional<ReferencePlane> ParsePlane(std::string_view text) {
  for (const ReferencePlane plane :
       {ReferencePlane::kCorneal, ReferencePlane::kSpectacle, ReferencePlane::kLateralCanthus,
        ReferencePlane::kCentreOfRotation}) {
    if (ToText(plane) == text) return plane;
  }
  return std::nullopt;
}

}  // namespace nearpoint
