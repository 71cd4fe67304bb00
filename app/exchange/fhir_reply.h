// What a FHIR R4 server answers to a transaction.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace nearpoint {

// The reason in a server's OperationOutcome, in its own words and at most 300 characters; "" where
// there is none.
[[nodiscard]] std::string ReasonOf(std::string_view operation_outcome);

// Whether the answer is a transaction-response in which each entry was carried out.
[[nodiscard]] bool IsCarriedOut(std::string_view reply, std::size_t entries);

}  // namespace nearpoint
