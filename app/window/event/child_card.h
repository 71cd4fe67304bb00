// A child at a station who is measured with the card, and the station's own camera.
//
// The card's pages work on an AppContext of their own: nobody's name stands in it, so what they
// measure is stored for no person. The camera is the station's and stays for every child after
// this one; the face is this child's and is forgotten with the child.
#pragma once

#include "app/event/record.h"
#include "app/event_store/event_store.h"
#include "app/window/app_context.h"
#include "calibration/print_scale.h"

namespace nearpoint {

// What this computer knows of its camera and of the place of the letter, and of nobody's face or
// hand: the population's scale. The camera by a card that was shown at this station, else as the
// home program has it.
[[nodiscard]] Profile StationProfile(const AppContext& home, const EventStore& store);

class ChildCard {
 public:
  ChildCard(const AppContext& home, const EventStore& store, Uuid child);

  [[nodiscard]] const Uuid& child() const { return child_; }
  [[nodiscard]] AppContext& context() { return context_; }
  [[nodiscard]] const Profile& profile() const { return context_.profile; }
  [[nodiscard]] bool camera_known() const { return context_.calibrated; }
  [[nodiscard]] bool print_known() const { return PrintIsMeasured(context_.profile); }
  [[nodiscard]] bool face_known() const { return context_.profile.made.face.has_value(); }
  // What was measured of the camera stays with the station. Errors: those of the store.
  [[nodiscard]] Result<void> KeepCamera(EventStore& store) const;

 private:
  Uuid child_;
  AppContext context_;
};

}  // namespace nearpoint
