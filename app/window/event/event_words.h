// What the pages of an event say about children, connections and findings.
#pragma once

#include <QString>
#include <optional>

#include "app/event/event_state.h"
#include "app/event/yield.h"
#include "app/window/event/event_link.h"

namespace nearpoint {
class EventContext;
}  // namespace nearpoint

namespace nearpoint::words {

// A sentence of the event's rules, its store or a roster, in the window's language where it is one
// that a volunteer meets (event_sentences.cpp); as it stands otherwise.
[[nodiscard]] QString ForSentence(const std::string& sentence);
[[nodiscard]] inline QString ForError(const Error& error) { return ForSentence(error.message); }

// "Ann Lee · 3a · number 12", or the number alone.
[[nodiscard]] QString ForChild(const ChildState& child);
// Where the child is in the queue; the same for every finding, since others look on.
[[nodiscard]] QString ForStage(const ChildState& child, const Uuid& station);
// "8.1 cm from where spectacles sit"; empty without a value. corneal_mm: as records have it.
[[nodiscard]] QString ForDistance(std::optional<double> corneal_mm, ReferencePlane plane);
// In one sentence, what these values read at home, where they count from the front of the eye;
// empty where the event counts from there too.
[[nodiscard]] QString ForOtherPlane(ReferencePlane plane);
// For the organiser, never at the station.
[[nodiscard]] QString ForFinding(const ChildState& child);
// What could not be written, and what becomes of it; empty where nothing waits.
[[nodiscard]] QString ForUnwritten(const EventContext& event);
[[nodiscard]] QString ForLink(const EventLink::Status& status);
// "Of 200 children ..."
[[nodiscard]] QString ForYield(const Yield& yield, int children);

}  // namespace nearpoint::words
