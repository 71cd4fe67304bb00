// What every page may use. Owned by whoever makes the window; outlives all pages.
#pragma once

#include <functional>
#include <memory>
#include <optional>

#include "app/live/live.h"
#include "app/sound/sound.h"
#include "app/store/store.h"
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
