// What every page may use. Owned by whoever makes the window; outlives all pages.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>

#include "app/live/live.h"
#include "app/safety/safety_check.h"
#include "app/sound/sound.h"
#include "app/store/store.h"
#include "app/window/answer_guard.h"
#include "app/window/page.h"
#include "app/window/pending_writes.h"
#include "calibration/profile.h"

namespace nearpoint {

class EventContext;
class Keyring;
class PracticeCard;
struct Clinic;

struct AppContext {
  AppContext(Store& the_store, Live& the_live, Sound& the_sound)
      : store(the_store), live(the_live), sound(the_sound) {}

  Store& store;
  Live& live;
  Sound& sound;

  std::optional<Person> person;  // who is in front of the window; absent on the first run
  bool practice = false;         // the simulated patient in place of the camera
  bool first_run = false;        // pages then lead to the next page of the first run
  // Where the pictures of the next measurement come from; whoever makes the window decides.
  std::function<OpenLiveSource(const AppContext&)> open_source;
  // Likewise for a calibration by the card: the camera as it is, or with what was measured of it.
  std::function<OpenLiveSource(const AppContext&, CardTask)> open_card_source;
  // In practice: the simulated person presses the key, and the one at the keyboard watches.
  bool patient_presses = false;
  // What a practice with the card has measured; made by the first of its pages, never stored.
  std::shared_ptr<PracticeCard> practice_card;
  // The camera as OpenSource spells it.
  QString camera = "0";
  // The finest detail of the letter that is looked at; absent: nobody knows it (a print of one's
  // own, a screen whose size was not measured).
  std::optional<Length> letter_detail;
  // The session that the comfort and result pages are about.
  RowId session = 0;
  // It waits to be begun in the store (pending): 0 until then. Absent: nothing of it waits.
  std::shared_ptr<RowId> unwritten_session;
  // What stands in the fields of who it is for, so that a look at the practice forgets nothing.
  struct Typed {
    QString name, year;
  } typed;

  // What the store did not take yet.
  std::shared_ptr<PendingWrites> pending = std::make_shared<PendingWrites>();

  // The questions before a measurement or an exercise: which of the two is wanted, what has been
  // answered on the way to it, and what each person said since the program began (its numbers are
  // newer than those in the file).
  std::optional<PageId> safety_wanted;
  SafetyNow safety_now;
  std::map<RowId, SafetyFacts> safety_said;
  // Pain or double vision after the last one, where that was said since the program began.
  std::map<RowId, bool> safety_trouble;

  // A clock that only goes on, for what may not be answered at once.
  std::function<std::chrono::milliseconds()> ticks = SteadyTicks;

  // The school event at this computer; made by the first of its pages.
  std::shared_ptr<EventContext> event;

  // The profile that the next measurement uses: the person's newest calibration, else population
  // values for a camera of that picture size.
  Profile profile;
  bool calibrated = false;
  // The person's calibration is there and cannot be read: said at home until another is measured.
  std::optional<Error> unread_calibration;

  // Where tokens of servers are kept; absent: they are asked for each time.
  Keyring* keyring = nullptr;

  // The clinic's own file and keys; opened by its pages (clinic/clinic.h).
  std::shared_ptr<Clinic> clinic;
};

}  // namespace nearpoint
