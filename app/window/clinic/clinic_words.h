// What the clinic's side says, in the language of the window.
#pragma once

#include <QString>

#include "app/clinic/attention.h"
#include "app/clinic/time_line.h"
#include "app/measure/criteria.h"
#include "app/review/audit_log.h"

namespace nearpoint::words {

// "Farther than before", for a list; and the whole sentence.
[[nodiscard]] QString ShortReason(Reason reason);
[[nodiscard]] QString LongReason(Reason reason);
[[nodiscard]] QString AnswerWord(Answer answer);
// "6.2 cm, 5.3 to 7.1"; "at most 5.0 cm" and "no value" where that is all.
[[nodiscard]] QString BandText(const std::optional<Band>& band);
// The day and hour of a measurement.
[[nodiscard]] QString WhenText(const SessionDigest& digest);
[[nodiscard]] QString DayText(Day day);
// "accepted", "changed by review", "eyes and report disagree"...; empty when there is nothing.
[[nodiscard]] QString StateText(const SessionDigest& digest);
[[nodiscard]] QString ComfortWord(const std::string& comfort);
[[nodiscard]] QString CourseSentence(const TimeLine& line);
[[nodiscard]] QString AgreementWord(const std::string& agreement);
[[nodiscard]] QString StatusWord(Status status);
[[nodiscard]] QString CriterionName(std::string_view name);
// "set trial 2 aside: the trace breaks off".
[[nodiscard]] QString StepText(const AuditEntry& entry);

}  // namespace nearpoint::words
