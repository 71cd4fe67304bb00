#include "app/event_export/export_event.h"

#include <filesystem>

#include "app/event/session_files.h"
#include "app/event/totals.h"
#include "app/event_export/bulk_fhir.h"
#include "app/records/atomic_file.h"

namespace nearpoint {
namespace {

// Numbers are unique within an event alone; so is this system.
std::string NumberSystem(const EventState& state) { return "urn:uuid:" + state.uuid; }

// Two children under one number are two.
std::string SubjectOf(const ChildState& child) {
  constexpr std::size_t kEnough = 8;
  return child.child.number + (child.number_shared ? "-" + child.uuid.substr(0, kEnough) : "");
}

Result<void> MakeFolder(const std::filesystem::path& folder) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (!error) return {};
  return Fail(ErrorCode::kNotWritable,
              folder.string() + ": this folder cannot be made (" + error.message() + ").");
}

}  // namespace

Result<ExportCounts> ExportEvent(const EventStore& store, const EventState& state,
                                 const std::string& folder) {
  const std::filesystem::path place(folder);
  for (const auto& sub : {place, place / "sessions", place / "fhir"}) {
    if (auto made = MakeFolder(sub); !made) return tl::unexpected(made.error());
  }
  const auto write = [](const std::filesystem::path& file, const std::string& text) {
    return WriteFileAtomically(file.string(), text, Readers::kOwner);
  };
  if (auto put = write(place / "children.csv", ChildrenCsv(state)); !put) {
    return tl::unexpected(put.error());
  }
  if (auto put = write(place / "measurements.csv", MeasurementsCsv(state)); !put) {
    return tl::unexpected(put.error());
  }
  if (auto put = write(place / "numbers.csv", TotalsCsv(TotalsOf(state))); !put) {
    return tl::unexpected(put.error());
  }
  ExportCounts counts;
  BulkFhir fhir;
  FhirOptions options;
  options.recorded = store.Now().toStdString();
  options.subject_system = NumberSystem(state);
  counts.children = static_cast<int>(state.children.size());
  for (const SessionFile& file : SessionFilesOf(state)) {
    const auto text = store.SessionText(file.made->uuid);
    if (!text) return tl::unexpected(text.error());
    if (text->empty()) continue;
    if (auto put = write(place / "sessions" / file.name, *text); !put) {
      return tl::unexpected(put.error());
    }
    ++counts.sessions;
    options.subject = SubjectOf(*file.child);
    options.entry = file.made->uuid;
    options.installation = file.made->station;
    if (auto added = fhir.Add(*text, "sessions/" + file.name, options); !added) {
      return tl::unexpected(added.error());
    }
  }
  for (const auto& [type, lines] : fhir.files()) {
    if (auto put = write(place / "fhir" / (type + ".ndjson"), lines); !put) {
      return tl::unexpected(put.error());
    }
  }
  counts.resources = fhir.resources();
  return counts;
}

}  // namespace nearpoint
