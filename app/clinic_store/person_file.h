// Everything about one person: out as files, or gone.
#pragma once

#include <string>
#include <vector>

#include "app/clinic_store/clinic_store.h"

namespace nearpoint {

struct ExportedFile {
  std::string name;  // without a folder
  std::string content;
};

// Every row that belongs to that patient: who they are, each measurement as it was received with
// its tracks and its review, exercise days, findings, plans, senders, and the entries of the
// journal about them. Written into the journal.
[[nodiscard]] Result<std::vector<ExportedFile>> ExportPatient(ClinicStore& store, RowId patient,
                                                              const QString& by);

// Every row that belongs to that patient goes, its place in the file is overwritten, and the file
// is made anew without it (secure_delete, VACUUM, and the write-ahead log cut to nothing). The
// journal keeps that patient number N was deleted, by whom and when. What backups or the disk
// itself still hold is beyond this program. kUnavailable: another window has the file open; then
// the rows are gone, but their bytes may not be until the last window closes.
[[nodiscard]] Result<void> DeletePatient(ClinicStore& store, RowId patient, const QString& by);

// Those whose newest measurement, or else whose entry, is older than so many months: to be deleted
// where the clinic's rules say so. months >= 1.
[[nodiscard]] Result<std::vector<Patient>> PastRetention(const ClinicStore& store, int months);

}  // namespace nearpoint
