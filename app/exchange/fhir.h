// A session as HL7 FHIR R4 (4.0.1): an Observation with the near point as components, the Device
// that measured, a DiagnosticReport and the Provenance, in one Bundle.
//
// Codes. No LOINC or SNOMED CT code for the near point of convergence was found and verified, so
// every concept of our own has a text and a code of our own code system (kCodeSystem; its content
// is CodeSystemToFhir). A diagnosis is never coded. Units are UCUM. A value that is only a bound
// has a comparator.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "app/records/stored_session.h"
#include "vision/core/result.h"

namespace nearpoint {

// A UUID drawn once for this purpose: it belongs to nobody else and needs no domain.
inline constexpr std::string_view kCodeSystem = "urn:uuid:5b0f6f0e-7d0c-4c55-9a55-3e0d6a2c1f84";
// Identifiers of sessions and of what is made of them.
inline constexpr std::string_view kIdentifierSystem =
    "urn:uuid:0f9a7f52-3a1e-4b8b-8f0e-8f6a1d5b7c20";

// Record numbers whose system nobody stated.
inline constexpr std::string_view kOwnSubjectSystem =
    "urn:uuid:8c1a8a2d-5f7e-4a3b-9c0d-2b6f4e7d9a11";

struct FhirOptions {
  std::string subject;  // pseudonym or record number; as identifier, never as a name
  std::string subject_system{kOwnSubjectSystem};  // whose numbers: as the record server has it
  // What measured: the same for all sessions of one installation, and so the same Device. Empty: of
  // an installation that nobody states.
  std::string installation;
  // What tells this measurement from another whose session reads alike, such as the id of its
  // record; empty where the text of the session does.
  std::string entry;
  std::string recorded;      // the moment of the export, with seconds and offset
  bool reviewed = false;     // a clinician has looked: status final instead of preliminary
  bool transaction = false;  // with requests that a server can carry out: each PUT under an id
                             // drawn from the session, so that twice is the same as once
};

// session_text: the file that `session` was read from; identifiers come from its hash. kBadValue:
// a simulated patient, an empty subject, or a `recorded` that is no instant.
[[nodiscard]] Result<nlohmann::ordered_json> SessionToFhir(const StoredSession& session,
                                                           std::string_view session_text,
                                                           const FhirOptions& options);

// The codes with their definitions, as a CodeSystem resource.
[[nodiscard]] nlohmann::ordered_json CodeSystemToFhir();

}  // namespace nearpoint
