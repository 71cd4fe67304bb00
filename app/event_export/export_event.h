// Everything of an event into a folder, for the organiser: tables and FHIR bulk data.
#pragma once

#include <string>

#include "app/event_store/event_store.h"

namespace nearpoint {

struct ExportCounts {
  int children = 0;
  int sessions = 0;
  int resources = 0;  // of FHIR
};

// children.csv, measurements.csv, numbers.csv, sessions/0001.json... (SessionFilesOf; children.csv
// says which are whose) and fhir/TYPE.ndjson, each readable by its owner alone. In FHIR a child is
// the number of its wristband; names stand in children.csv alone. Every measurement that stands is
// exported, both of a conflict too. Errors: kNotWritable, those of BulkFhir::Add (a simulated
// patient does not belong into a health record).
[[nodiscard]] Result<ExportCounts> ExportEvent(const EventStore& store, const EventState& state,
                                               const std::string& folder);

}  // namespace nearpoint
