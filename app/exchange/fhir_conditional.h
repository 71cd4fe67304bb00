// A transaction for servers that give ids of their own: each resource is found again by what it
// carries instead of by an id that its sender chose.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace nearpoint {

// The same transaction with conditional updates (hl7.org/fhir/R4/http.html#cond-update): by the
// identifier of ours that a resource has, or by its tag where its type has no identifiers. nullopt:
// an entry has neither, or this is no transaction.
[[nodiscard]] std::optional<std::string> WithoutChosenIds(std::string_view transaction);

// Whose record it is: the first identifier of a patient in the transaction that is not under our
// own system, as the search that asks a server for that patient ("Patient?identifier=..."); ""
// where there is none.
[[nodiscard]] std::string PatientQuery(std::string_view transaction);

// The same transaction with a reference to the patient whom the server's answer names, beside the
// identifier. nullopt: the answer does not name exactly one.
[[nodiscard]] std::optional<std::string> WithPatient(std::string_view transaction,
                                                     std::string_view answer);

}  // namespace nearpoint
