// The measurements of an event as FHIR R4 bulk data: one file a type of resource, one resource a
// line (NDJSON), with references of the form Type/id between them, as the Bulk Data Access
// specification (HL7, hl7.org/fhir/uv/bulkdata; from memory) has it.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "app/exchange/fhir.h"

namespace nearpoint {

class BulkFhir {
 public:
  // One session under the child's number, which stands as an identifier; no name goes in. Errors:
  // those of ParseStoredSession and SessionToFhir.
  [[nodiscard]] Result<void> Add(const std::string& session_text, const std::string& where,
                                 const FhirOptions& options);
  // "Observation" to its lines. The device of all sessions is one line.
  [[nodiscard]] const std::map<std::string, std::string>& files() const { return files_; }
  [[nodiscard]] int resources() const { return static_cast<int>(seen_.size()); }

 private:
  std::map<std::string, std::string> files_;
  std::map<std::string, int> seen_;  // "Type/id"
};

}  // namespace nearpoint
