// What the pages of a school event share: the station's store, the event that is open, and the
// child that is measured. In practice it is an event of its own, in a folder that goes away, with
// children who are difficult on purpose.
#pragma once

#include <QElapsedTimer>
#include <QTemporaryDir>
#include <deque>
#include <functional>
#include <memory>
#include <optional>

#include "app/event_store/event_desk.h"
#include "app/live/practice_patient.h"
#include "app/window/app_context.h"
#include "app/window/event/child_card.h"
#include "app/window/event/event_link.h"

namespace nearpoint {

class EventContext {
 public:
  // The one of `context`, made (or made anew when practice began or ended) where needed; its file
  // stands beside that of the home program. Errors: those of EventStore::Open, and kNotWritable
  // while something of the other one waits to be written.
  [[nodiscard]] static Result<EventContext*> Of(AppContext& context);

  [[nodiscard]] EventStore& store() { return store_; }
  [[nodiscard]] EventLink* link() { return link_.get(); }  // null in practice
  // The event that is worked on; null where there is none yet.
  [[nodiscard]] EventDesk* desk() { return desk_ ? &*desk_ : nullptr; }
  // Opens the event and remembers it as the current one.
  Result<void> Choose(const Uuid& event);
  // Lets the desk of the open event do something that writes. What cannot be written now (a full
  // disk, another window that writes) is kept in memory, in its order, and tried again: until then
  // the error says why, and why_unwritten() goes on saying it. Other errors are final.
  using Act = std::function<Result<void>(EventDesk&)>;
  Result<void> Write(Act act);
  // Tries what is kept. True if nothing is left.
  bool WriteWhatIsLeft();
  [[nodiscard]] int unwritten() const { return static_cast<int>(unwritten_.size()); }
  [[nodiscard]] const std::optional<Error>& why_unwritten() const { return why_unwritten_; }
  // What arrived since. True if anything did.
  bool Refresh();
  void Nudge();

  [[nodiscard]] bool practice() const { return practice_; }
  // The patient who plays this child in practice.
  [[nodiscard]] PracticeOptions Patient(const Uuid& who) const;

  // What the child at the station is measured with: by its own card where one was shown.
  [[nodiscard]] Profile MeasuredWith(const AppContext& home) const;

  // The child at the station.
  Uuid child;
  std::unique_ptr<ChildCard> card;  // while a child is measured with the card
  bool go_on = false;               // with the trials of this child that were not finished
  QElapsedTimer since;              // it was chosen
  bool kept = false;                // its measurement is on disk
  bool measuring = false;           // the page that measures it is shown

 private:
  EventContext(EventStore store, bool practice);
  Result<void> Do(const Uuid& event, const Act& act);
  void BeginPractice();

  std::unique_ptr<QTemporaryDir> folder_;  // in practice
  EventStore store_;
  std::optional<EventDesk> desk_;
  struct Unwritten {
    Uuid event;
    Act act;
  };
  std::deque<Unwritten> unwritten_;
  std::optional<Error> why_unwritten_;  // absent where nothing waits
  std::unique_ptr<EventLink> link_;
  bool practice_;
};

}  // namespace nearpoint
