// The card for one child, where the band lies on both sides of the limit: what is still to be
// shown to the camera, and then the child once more.
#pragma once

#include "app/window/event/at_event.h"
#include "app/window/page.h"

namespace nearpoint {

class EventContext;

class StationCardPage : public Page {
  Q_OBJECT

 public:
  explicit StationCardPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] QString Who() const override { return WhereAtEvent(); }
  [[nodiscard]] PageId WayOut() const override { return PageId::kStationDone; }

  // Whether a child is measured with the card just now: the card's pages then lead here.
  [[nodiscard]] static bool IsWanted(const AppContext& context);

 private:
  void MeasureAgain();

  EventContext* event_;
};

}  // namespace nearpoint
