// What a FHIR R4 server answers to a transaction.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace nearpoint {

// The reason in a server's OperationOutcome (its diagnostics, else its text), in its own words and
// at most 300 characters; "" where there is none.
[[nodiscard]] std::string ReasonOf(std::string_view operation_outcome);

// Whether a server that answered 200 refused an entry with 400, 404 or 405: what one says that
// takes no ids but its own.
[[nodiscard]] bool RefusesIds(std::string_view reply);

// Whether the answer is a transaction-response in which each entry was carried out.
[[nodiscard]] bool IsCarriedOut(std::string_view reply, std::size_t entries);

}  // namespace nearpoint
