#include "app/event_store/event_desk.h"

#include <algorithm>

#include "app/event/fold_text.h"
#include "app/event/roster_cells.h"
#include "app/records/moment.h"

namespace nearpoint {
namespace {

std::vector<const Measurement*> Standing(const ChildState& child) {
  std::vector<const Measurement*> standing;
  std::vector<Uuid> behind;
  for (const Measurement& made : child.measurements) {
    if (made.undone) continue;
    behind.insert(behind.end(), made.what.follows.begin(), made.what.follows.end());
  }
  for (const Measurement& made : child.measurements) {
    if (!made.undone && std::ranges::find(behind, made.uuid) == behind.end()) {
      standing.push_back(&made);
    }
  }
  return standing;
}

}  // namespace

Result<Uuid> EventDesk::Begin(EventStore& store, const EventOpened& event) {
  if (auto fine = CheckRule(event.rule); !fine) return tl::unexpected(fine.error());
  if (Simplified(event.name).empty()) {
    return Fail(ErrorCode::kBadValue, "The event has no name; expected one.");
  }
  const auto day = ParseMoment(event.day);
  if (!day || day->hour) {
    return Fail(ErrorCode::kBadValue,
                "\"" + event.day + "\" is no day; expected one like 2026-03-14.");
  }
  const Uuid uuid = MakeUuid();
  EventOpened opened = event;
  opened.name = Simplified(event.name);
  const auto written = store.Append(uuid, {{"", opened, ""}});
  if (!written) return tl::unexpected(written.error());
  return uuid;
}

Result<EventDesk> EventDesk::Open(EventStore& store, const Uuid& event) {
  EventDesk desk(store, event);
  if (auto read = desk.Refresh(); !read) return tl::unexpected(read.error());
  return desk;
}

Result<bool> EventDesk::Refresh() {
  const auto count = store_->Count();
  if (!count) return tl::unexpected(count.error());
  if (*count == count_) return false;
  auto state = store_->State(event_);
  if (!state) return tl::unexpected(state.error());
  state_ = *std::move(state);
  count_ = *count;
  return true;
}

Result<std::vector<EventRecord>> EventDesk::Write(const std::vector<NewRecord>& records) {
  auto written = store_->Append(event_, records);
  if (!written) return written;
  // They are on disk: an error from here on would have them written twice. The next Refresh tells.
  if (!Refresh()) count_ = -1;
  return written;
}

Result<const ChildState*> EventDesk::Child(const Uuid& child) const {
  const ChildState* const found = state_.Find(child);
  if (found != nullptr) return found;
  return Fail(ErrorCode::kNotFound, "This child is not on the list of the event.");
}

Result<void> EventDesk::Import(const Roster& roster) {
  if (!roster.faults.empty()) {
    return Fail(ErrorCode::kBadValue,
                "The roster has " + std::to_string(roster.faults.size()) +
                    " faults; nothing was imported. Mend them in the file and read it again.");
  }
  std::vector<NewRecord> records;
  for (const RosterChild& row : roster.children) {
    if (state_.FindNumber(row.child.number) != nullptr) {
      return Fail(ErrorCode::kBadValue, "Number " + row.child.number + " (line " +
                                            std::to_string(row.line) +
                                            ") is taken in this event; nothing was imported.");
    }
    const Uuid child = MakeUuid();
    records.push_back({child, row.child, ""});
    if (row.consent) records.push_back({child, ConsentTaken{*row.consent, "form"}, ""});
  }
  const auto written = Write(records);
  if (!written) return tl::unexpected(written.error());
  return {};
}

Result<std::string> EventDesk::FreeNumber(const std::string& typed) const {
  std::string number = Simplified(typed);
  if (number.empty()) return Fail(ErrorCode::kBadValue, "A number is needed.");
  if (const auto read = ReadNumber(number); !read) {
    return Fail(ErrorCode::kBadValue,
                "\"" + number + "\" is no number; expected " + read.error().expected + ".");
  }
  // A-7 and a-7 are one wristband.
  const std::string folded = FoldForSearch(number);
  const bool taken = std::ranges::any_of(state_.children, [&](const ChildState& other) {
    return FoldForSearch(other.child.number) == folded;
  });
  if (taken) return Fail(ErrorCode::kMismatch, "Number " + number + " is taken in this event.");
  return number;
}

Result<void> EventDesk::Renumber(const Uuid& child, const std::string& number) {
  const auto known = Child(child);
  if (!known) return tl::unexpected(known.error());
  const auto free = FreeNumber(number);
  if (!free) return tl::unexpected(free.error());
  ChildAdded renumbered = (*known)->child;
  renumbered.number = *free;
  const auto written = Write({{child, renumbered, ""}});
  if (!written) return tl::unexpected(written.error());
  return {};
}

Result<Uuid> EventDesk::AddWalkUp(const std::string& number, std::optional<double> age_years) {
  const auto free = FreeNumber(number);
  if (!free) return tl::unexpected(free.error());
  ChildAdded child;
  child.number = *free;
  child.age_years = age_years;
  child.walk_up = true;
  const Uuid uuid = MakeUuid();
  const auto written = Write({{uuid, child, ""}});
  if (!written) return tl::unexpected(written.error());
  return uuid;
}

Result<void> EventDesk::TakeConsent(const Uuid& child, bool given, const std::string& how) {
  if (const auto known = Child(child); !known) return tl::unexpected(known.error());
  const auto written = Write({{child, ConsentTaken{given, how}, ""}});
  if (!written) return tl::unexpected(written.error());
  return {};
}

Result<void> EventDesk::Start(const Uuid& child, bool anyway, bool go_on) {
  const auto known = Child(child);
  if (!known) return tl::unexpected(known.error());
  if (auto may = MayStart(**known, store_->station(), anyway); !may) return may;
  const auto written = Write({{child, MeasuringStarted{.afresh = !go_on}, ""}});
  if (!written) return tl::unexpected(written.error());
  return {};
}

Result<void> EventDesk::KeepTrial(const Uuid& child, const TrialMade& trial) {
  if (const auto known = Child(child); !known) return tl::unexpected(known.error());
  const auto written = Write({{child, trial, ""}});
  if (!written) return tl::unexpected(written.error());
  return {};
}

int EventDesk::OpenTrials(const Uuid& child) const {
  const ChildState* const known = state_.Find(child);
  if (known == nullptr || known->open_at != store_->station()) return 0;
  return static_cast<int>(known->open_trials.size());
}

std::vector<Uuid> EventDesk::Interrupted() const {
  std::vector<Uuid> children;
  for (const ChildState& child : state_.children) {
    if (child.stage == ChildStage::kMeasuring && child.at_station == store_->station()) {
      children.push_back(child.uuid);
    }
  }
  return children;
}

Result<void> EventDesk::Stop(const Uuid& child, StopReason reason) {
  if (const auto known = Child(child); !known) return tl::unexpected(known.error());
  const auto written = Write({{child, MeasuringStopped{reason}, ""}});
  if (!written) return tl::unexpected(written.error());
  return {};
}

Result<void> EventDesk::TakeBackCaution(const Uuid& child) {
  const auto known = Child(child);
  if (!known) return tl::unexpected(known.error());
  std::vector<NewRecord> records;
  for (const Uuid& caution : (*known)->cautions) records.push_back({child, Undone{caution}, ""});
  if (records.empty()) {
    return Fail(ErrorCode::kNotFound, "Nobody said that this child needs looking after.");
  }
  const auto written = Write(records);
  if (!written) return tl::unexpected(written.error());
  return {};
}

Result<Uuid> EventDesk::Keep(const Uuid& child, ChildMeasured measured,
                             const std::string& session_json) {
  const auto known = Child(child);
  if (!known) return tl::unexpected(known.error());
  if (!(*known)->consent || !(*known)->consent->given) {
    return Fail(ErrorCode::kInsufficient, "There is no consent for this child; nothing was kept.");
  }
  measured.follows.clear();
  for (const Measurement& made : (*known)->measurements) {
    if (!made.undone) measured.follows.push_back(made.uuid);
  }
  const auto written = Write({{child, measured, session_json}});
  if (!written) return tl::unexpected(written.error());
  return written->front().uuid;
}

std::optional<std::pair<Uuid, Uuid>> EventDesk::LastKept() const {
  std::optional<std::pair<Uuid, Uuid>> last;
  std::int64_t newest = -1;
  for (const ChildState& child : state_.children) {
    for (const Measurement& made : child.measurements) {
      if (made.undone || made.station != store_->station() || made.order <= newest) continue;
      newest = made.order;
      last = std::pair(made.uuid, child.uuid);
    }
  }
  return last;
}

Result<Uuid> EventDesk::UndoLast() {
  const auto last = LastKept();
  if (!last) {
    return Fail(ErrorCode::kNotFound, "This station has measured nobody that could be undone.");
  }
  const auto written = Write({{last->second, Undone{last->first}, ""}});
  if (!written) return tl::unexpected(written.error());
  return last->second;
}

Result<void> EventDesk::Swap(const Uuid& a, const Uuid& b) {
  const auto first = Child(a);
  if (!first) return tl::unexpected(first.error());
  const auto second = Child(b);
  if (!second) return tl::unexpected(second.error());
  std::vector<NewRecord> records;
  const auto move = [&records](const ChildState& from, const ChildState& to) {
    if (!from.counts) return;
    records.push_back({from.uuid, Moved{from.measurements[*from.counts].uuid, to.uuid}, ""});
  };
  move(**first, **second);
  move(**second, **first);
  if (records.empty() || a == b) {
    return Fail(ErrorCode::kNotFound, "Neither of the two has a measurement to swap.");
  }
  const auto written = Write(records);
  if (!written) return tl::unexpected(written.error());
  return {};
}

Result<void> EventDesk::HandOver(const std::string& volunteer) {
  const std::string name = Simplified(volunteer);
  if (name.empty()) {
    return Fail(ErrorCode::kBadValue, "Who goes on? A first name is enough.");
  }
  const auto written = Write({{"", HandedOver{name}, ""}});
  if (!written) return tl::unexpected(written.error());
  return store_->SetSetting("volunteer", QString::fromStdString(name));
}

Result<void> EventDesk::Settle(const Uuid& child, const Uuid& keep) {
  const auto known = Child(child);
  if (!known) return tl::unexpected(known.error());
  Settled settled{keep, {}};
  bool found = false;
  for (const Measurement* made : Standing(**known)) {
    if (made->uuid == keep) {
      found = true;
    } else {
      settled.drops.push_back(made->uuid);
    }
  }
  if (!found) return Fail(ErrorCode::kNotFound, "This measurement of the child does not stand.");
  const auto written = Write({{child, settled, ""}});
  if (!written) return tl::unexpected(written.error());
  return {};
}

}  // namespace nearpoint
