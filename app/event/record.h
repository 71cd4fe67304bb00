// Everything that happens at an event is a record: written once by one station, never changed,
// never taken back. What stands now is computed from all of them (event_state.h), so that merging
// two stations is the union of their records, in whatever order they arrive.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/event/rule.h"

namespace nearpoint {

using Uuid = std::string;  // 36 characters, as RFC 9562 prints it

// The event itself, or its rule changed: the newest counts.
struct EventOpened {
  std::string name;
  std::string day;  // 2026-03-14
  EventRule rule;
};

// From the roster, or a walk-up whose number is all that is known.
struct ChildAdded {
  std::string number;  // on the wristband: unique within the event
  std::string name;    // may be empty
  std::string group;   // class or room; may be empty
  std::optional<double> age_years;
  bool walk_up = false;
};

struct ConsentTaken {
  bool given = false;
  std::string how;  // "form", "parent present"...
};

// Other stations see it and leave the child alone.
struct MeasuringStarted {
  bool afresh = true;  // false: the trials that this station made of the child before still count
};

// A trial of a measurement that is not finished: written the moment it ends, so that a station that
// stops in the middle can go on.
struct TrialMade {
  std::string trial;  // records/trial_json.h
  std::string eyes;   // records/trial_eyes_json.h
  bool card = false;  // the scale that it was made with: of this child's card, or the population's
};

enum class StopReason {
  kPaused,    // comes back later
  kAbsent,    // was not there
  kUnable,    // could not be measured
  kCaution,   // something that belongs before a professional was said or seen
  kDeclined,  // did not want to
};
struct MeasuringStopped {
  StopReason reason = StopReason::kPaused;
};

enum class Basis { kReport, kEyes };  // what the break rests on: the child's word or the eyes alone

struct ChildMeasured {
  std::optional<double> break_mm, low_mm, high_mm;  // from the corneal plane
  std::optional<double> probability_beyond;         // of the limit
  double cut_off_mm = 0;                            // from the corneal plane
  int trials_made = 0;
  int trials_used = 0;
  std::vector<std::string> set_aside;  // reasons, one a trial that does not count
  Basis basis = Basis::kReport;
  bool contradicted = false;   // reports and eyes tell different stories (agreement.h)
  bool card = false;           // scale by the card; otherwise the population's
  double seconds = 0;          // from the choice of the child to the end
  std::vector<Uuid> follows;   // measurements of this child that were known: a repeat, no conflict
  std::string session_sha256;  // of the SESSION.json kept beside; empty without one
};

struct Undone {
  Uuid of;  // a measurement: it stays in the file and counts no more
};
struct Moved {
  Uuid of;  // a measurement that was made under the name of the wrong child
  Uuid to;  // the right one
};
struct Settled {
  Uuid keep;                // of several measurements of a child, the one that counts...
  std::vector<Uuid> drops;  // ... and those that were seen and do not; one nobody saw stays open
};
struct HandedOver {
  std::string to;  // the volunteer who goes on
};

using RecordBody =
    std::variant<EventOpened, ChildAdded, ConsentTaken, MeasuringStarted, MeasuringStopped,
                 ChildMeasured, Undone, Moved, Settled, HandedOver, TrialMade>;

struct EventRecord {
  Uuid uuid;
  Uuid event;
  Uuid child;  // empty where the record is of none
  Uuid station;
  std::int64_t seq = 0;   // 1, 2, 3... of that station
  std::int64_t tick = 0;  // larger than that of every record its station knew (Lamport 1978)
  std::string at;         // UTC by the station's clock, ISO 8601; shown, never compared
  std::string volunteer;
  RecordBody body;
};

// The word of the file for what a record is: "child", "measured"...
[[nodiscard]] std::string_view KindOf(const RecordBody& body);
[[nodiscard]] std::string_view ToText(StopReason reason);
[[nodiscard]] std::string_view ToText(Basis basis);

// The body as the file has it, and back. Errors: kBadValue, kNotFound. where: for messages.
[[nodiscard]] std::string BodyToText(const RecordBody& body);
[[nodiscard]] Result<RecordBody> BodyFromText(std::string_view kind, std::string_view text,
                                              const std::string& where);

}  // namespace nearpoint
