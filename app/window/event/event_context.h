// What the pages of a school event share: the station's store, the event that is open, and the
// child that is measured. In practice it is an event of its own, in a folder that goes away, with
// children who are difficult on purpose.
#pragma once

#include <QElapsedTimer>
#include <QTemporaryDir>
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
  // stands beside that of the home program. Errors: those of EventStore::Open.
  [[nodiscard]] static Result<EventContext*> Of(AppContext& context);

  [[nodiscard]] EventStore& store() { return store_; }
  [[nodiscard]] EventLink* link() { return link_.get(); }  // null in practice
  // The event that is worked on; null where there is none yet.
  [[nodiscard]] EventDesk* desk() { return desk_ ? &*desk_ : nullptr; }
  // Opens the event and remembers it as the current one.
  Result<void> Choose(const Uuid& event);
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
  void BeginPractice();

  std::unique_ptr<QTemporaryDir> folder_;  // in practice
  EventStore store_;
  std::optional<EventDesk> desk_;
  std::unique_ptr<EventLink> link_;
  bool practice_;
};

}  // namespace nearpoint
