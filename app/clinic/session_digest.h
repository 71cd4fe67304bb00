// What the list of people and a time line need of one session, small enough to be kept beside it: a
// thousand people are put in order without a session file being read.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/measure/session_point.h"
#include "app/review/audit_log.h"
#include "vision/core/result.h"

namespace nearpoint {

struct SessionDigest {
  std::string started_at;      // as the file has it; "" where it does not say
  double day = 0;              // days since 1970-01-01 with the part of the day
  std::optional<double> hour;  // local
  // Of the session as reviewed, from the corneal plane.
  std::optional<Band> break_mm, recovery_mm;
  Answer answer = Answer::kCannotTell;
  Length cut_off;
  // As the session has it, where it is held against another limit by now (limit_now.h). What is
  // written is always this.
  struct Said {
    Length cut_off;
    Answer answer = Answer::kCannotTell;
  };
  std::optional<Said> said;
  std::optional<SessionPoint> point;  // absent when no trial counts
  int trials = 0;
  int used = 0;
  bool eyes_disagree = false;
  std::optional<double> seen;  // of all frames, those with a distance
  std::string comfort;         // "fine", "tired", "discomfort", "double", ""
  bool simulated = false;      // measured nobody
  bool accepted = false;       // by a reviewer, and nothing changed since
  bool changed = false;        // a reviewer set trials aside or let them count
};

// From the session's file and its review. received_day stands in where the file has no moment.
// Errors: those of ParseStoredSession and ApplyReview.
[[nodiscard]] Result<SessionDigest> DigestOf(std::string_view session_text, const AuditLog& review,
                                             double received_day, const std::string& where);

// One line of JSON, schema "nearpoint/digest/1", and back. kBadValue: of another version; it is
// then made anew from the file.
[[nodiscard]] std::string SerializeDigest(const SessionDigest& digest);
[[nodiscard]] Result<SessionDigest> ParseDigest(std::string_view text, const std::string& where);

// Fewer than three trials that count, more set aside than counted, or the eyes seen in less than
// 80 % of the pictures: this program's own limits, no source.
[[nodiscard]] bool PoorQuality(const SessionDigest& digest);

}  // namespace nearpoint
