// What stands at an event, computed from its records. The order in which the records are given does
// not matter, nor does a record given twice: any two stations that hold the same records see the
// same.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/event/record.h"

namespace nearpoint {

enum class ChildStage {
  kWaiting,    // not measured yet
  kMeasuring,  // at a station just now
  kPaused,     // was begun and comes back
  kDone,       // a measurement stands
  kLeft,       // absent, unable, declined, or called over without one: see `stopped`
};

struct Measurement {
  Uuid uuid;
  Uuid station;
  std::string at;
  std::string volunteer;
  std::int64_t order = 0;  // the later the larger, as far as the stations knew of each other
  ChildMeasured what;
  bool moved = false;   // was made under another child's name
  bool undone = false;  // does not count
  bool stands = false;  // neither undone nor followed nor settled against; two of a child conflict
  Finding finding = Finding::kNotMeasured;
};

struct ChildState {
  Uuid uuid;
  ChildAdded child;
  std::string added_by, added_at;  // the volunteer and the moment, in UTC
  // Two stations gave the same number to a child each, without knowing of each other: both exist,
  // and somebody has to give one of them another (EventDesk::Renumber).
  bool number_shared = false;
  std::optional<ConsentTaken> consent;  // the newest; absent: nobody asked
  ChildStage stage = ChildStage::kWaiting;
  Uuid at_station;                    // in kMeasuring and kPaused
  std::optional<StopReason> stopped;  // in kPaused and kLeft
  // Trials of a measurement that was begun and not finished, in their order. Only the station that
  // made them may go on with them: another one has another camera.
  std::vector<TrialMade> open_trials;
  Uuid open_at;                           // that station; empty where there are none
  std::vector<Measurement> measurements;  // in their order, those undone included
  // The one that counts, as an index of measurements: the newest of a row of repeats, or the one
  // that was settled on.
  std::optional<std::size_t> counts;
  // Two that count were made without knowledge of each other, and nobody settled it. Both are kept.
  bool conflict = false;
  // Somebody pressed "needs looking after", before or after a measurement, and nobody took it back:
  // the records that say so. It stands above every finding and ends with no measurement.
  std::vector<Uuid> cautions;
  [[nodiscard]] bool needs_looking_after() const { return !cautions.empty(); }
  // kNeedsLookingAfter before all else; kMeasureAgain where a conflict's two disagree.
  Finding finding = Finding::kNotMeasured;
};

struct StationState {
  Uuid uuid;
  std::string volunteer;  // of its newest record
  int measured = 0;       // measurements made there, those undone included
};

struct EventState {
  Uuid uuid;
  EventOpened event;
  std::vector<ChildState> children;  // in the order in which they joined
  std::map<Uuid, StationState> stations;
  std::vector<std::string> contradictions;  // for the organiser: a number used twice, and so on

  [[nodiscard]] const ChildState* Find(const Uuid& child) const;
  [[nodiscard]] const ChildState* FindNumber(std::string_view number) const;
};

// Of one event. Records that refer to what is not there (yet) are without effect until it is.
[[nodiscard]] EventState StateOf(std::span<const EventRecord> records);

// Whether this child may be measured now, at that station: kMismatch (is at another station, or
// done already), kInsufficient (no consent, or needs looking after). The sentence is for the
// volunteer. anyway: the volunteer has read it: a repeat, or a child taken over from a station that
// stopped. Consent is needed all the same, and who needs looking after is looked after first.
[[nodiscard]] Result<void> MayStart(const ChildState& child, const Uuid& station, bool anyway);

// Who matches what was typed so far: every word of it begins a word of the name, the class or the
// number. Those still to be measured first, then by number; at most `most`.
[[nodiscard]] std::vector<const ChildState*> FindChildren(const EventState& state,
                                                          std::string_view typed, std::size_t most);

}  // namespace nearpoint
