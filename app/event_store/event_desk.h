// What a volunteer or the organiser does at an event, as one step each: every method checks that it
// may be done now, writes its records, and brings the state up to date. The window and the command
// line work through this alone.
#pragma once

#include <string>
#include <utility>

#include "app/event/roster.h"
#include "app/event_store/event_store.h"

namespace nearpoint {

class EventDesk {
 public:
  // Begins a new event on this station. Errors: those of CheckRule and Append; kBadValue (no name,
  // no such day).
  [[nodiscard]] static Result<Uuid> Begin(EventStore& store, const EventOpened& event);
  // The event must be here. Errors: those of EventStore::State.
  [[nodiscard]] static Result<EventDesk> Open(EventStore& store, const Uuid& event);

  [[nodiscard]] const EventState& state() const { return state_; }
  [[nodiscard]] EventStore& store() { return *store_; }
  // What others wrote since. True if there was something.
  Result<bool> Refresh();

  // All children of a roster without faults, or none. kBadValue: it has faults, or a number of it
  // is taken.
  [[nodiscard]] Result<void> Import(const Roster& roster);
  // A child of whom the number is all that is known. kMismatch: the number is taken; kBadValue: it
  // is none (letters, digits and hyphens, at most 16).
  [[nodiscard]] Result<Uuid> AddWalkUp(const std::string& number,
                                       std::optional<double> age_years = std::nullopt);
  // Another number for a child, where two stations had given one number twice. Errors: as
  // AddWalkUp.
  [[nodiscard]] Result<void> Renumber(const Uuid& child, const std::string& number);
  [[nodiscard]] Result<void> TakeConsent(const Uuid& child, bool given, const std::string& how);
  // Errors: those of MayStart. go_on: with the trials that this station made of the child and did
  // not finish; without, they count no more.
  [[nodiscard]] Result<void> Start(const Uuid& child, bool anyway = false, bool go_on = false);
  // A trial of the measurement that is being made: on disk when it returns.
  [[nodiscard]] Result<void> KeepTrial(const Uuid& child, const TrialMade& trial);
  // Trials that this station could go on with.
  [[nodiscard]] int OpenTrials(const Uuid& child) const;
  // Children that this station was measuring when it stopped without a word.
  [[nodiscard]] std::vector<Uuid> Interrupted() const;
  [[nodiscard]] Result<void> Stop(const Uuid& child, StopReason reason);
  // What was pressed by mistake, or was looked after: the child may be measured. The records stay.
  // kNotFound: nobody said that this child needs looking after.
  [[nodiscard]] Result<void> TakeBackCaution(const Uuid& child);
  // The measurement that was made; its `follows` is filled here. Returns its id.
  [[nodiscard]] Result<Uuid> Keep(const Uuid& child, ChildMeasured measured,
                                  const std::string& session_json);

  // The newest measurement of this station that stands, with its child; nullopt without one.
  [[nodiscard]] std::optional<std::pair<Uuid, Uuid>> LastKept() const;
  // Takes it back: it stays in the file, counts no more, and the child waits again. Returns the
  // child. kNotFound: there is none.
  [[nodiscard]] Result<Uuid> UndoLast();
  // The measurements of two children that were mixed up change places; one of the two may have
  // none. kNotFound: neither has one.
  [[nodiscard]] Result<void> Swap(const Uuid& a, const Uuid& b);
  [[nodiscard]] Result<void> HandOver(const std::string& volunteer);
  // Of a child measured twice unseen: the one that counts.
  [[nodiscard]] Result<void> Settle(const Uuid& child, const Uuid& keep);

 private:
  EventDesk(EventStore& store, Uuid event) : store_(&store), event_(std::move(event)) {}
  Result<std::vector<EventRecord>> Write(const std::vector<NewRecord>& records);
  [[nodiscard]] Result<const ChildState*> Child(const Uuid& child) const;
  [[nodiscard]] Result<std::string> FreeNumber(const std::string& typed) const;

  EventStore* store_;
  Uuid event_;
  EventState state_;
  qint64 count_ = -1;
};

}  // namespace nearpoint
