// The numbers of an event for the organiser: whole counts, no names.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "app/event/event_state.h"

namespace nearpoint {

struct AgeRow {
  std::string ages;  // "6", "7"... in whole years; "unknown"
  int children = 0, measured = 0, within = 0, see_professional = 0, again = 0, look_after = 0;
};

struct Totals {
  int listed = 0;                                   // children of the roster and walk-ups
  int measured = 0;                                 // with a measurement that counts
  int within = 0, see_professional = 0, again = 0;  // of them
  int no_number = 0;                                // of them, without a single trial that counts
  // Who needs looking after, measured or not; such a child is counted under no other finding.
  int look_after = 0;
  int look_after_measured = 0;  // of them, with a measurement that counts
  int waiting = 0, paused = 0, measuring = 0;
  int absent = 0;
  int unable = 0;     // could not be measured
  int declined = 0;   // did not want to
  int caution = 0;    // called over before a measurement was made
  int refused = 0;    // consent refused
  int not_asked = 0;  // no consent recorded, of those who were not measured
  int conflicts = 0;  // children measured twice unseen
  int undone = 0;     // measurements taken back
  int by_eyes = 0;    // measured by the eyes alone
  int trials = 0, trials_set_aside = 0;
  std::map<std::string, int> set_aside_why;  // trials, by reason
  std::map<std::string, int> measured_at;    // measurements that count, by station
  double median_seconds = 0;                 // a child, of the measurements that count; 0: none
  std::vector<AgeRow> by_age;
};

[[nodiscard]] Totals TotalsOf(const EventState& state);

// One line a child: who needs what. RFC 4180; distances from the rule's plane, which is
// named; the files of its sessions as an export names them.
[[nodiscard]] std::string ChildrenCsv(const EventState& state);
// One line a measurement that stands, both of a conflict too.
[[nodiscard]] std::string MeasurementsCsv(const EventState& state);
// The same numbers as tables of two columns, for a spreadsheet.
[[nodiscard]] std::string TotalsCsv(const Totals& totals);

}  // namespace nearpoint
