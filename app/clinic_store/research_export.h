// The tables for research of all patients (research_csv.h), as reviewed.
#pragma once

#include "app/clinic_store/clinic_store.h"
#include "app/exchange/research_csv.h"

namespace nearpoint {

// A pseudonym is drawn from the patient's row with a key that stands in the clinic's file alone:
// the same in each export, and nobody without that file can tell whose it is. Practice is left out.
// Written into the journal. kInsufficient: nothing was measured yet.
[[nodiscard]] Result<ResearchTables> ExportForResearch(ClinicStore& store, const QString& by);

}  // namespace nearpoint
