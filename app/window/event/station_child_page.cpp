#include "app/window/event/station_child_page.h"

#include "app/window/begin.h"
#include "app/window/event/event_keeper.h"

namespace nearpoint {
namespace {

// Only the station leads here, with an event and a child. Sources: the camera, or the patient who
// plays this child.
std::unique_ptr<TrialKeeper> KeeperFor(AppContext& context) {
  return std::make_unique<EventKeeper>(context, *context.event);
}

AppContext& Prepared(AppContext& context) {
  context.session = 0;
  context.patient_presses = context.practice;
  context.event->measuring = true;
  return context;
}

}  // namespace

StationChildPage::StationChildPage(AppContext& the_context, QWidget* parent)
    : MeasurePage(Prepared(the_context), KeeperFor(the_context), parent) {
  SetHeading(tr("Measurement"));
}

StationChildPage::~StationChildPage() { context().event->measuring = false; }

}  // namespace nearpoint
