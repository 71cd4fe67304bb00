// What a FHIR server answers: to a transaction, and to the search for sealed files.
#include <algorithm>

#include "app/exchange/fhir_mailbox.h"
#include "app/exchange/fhir_reply.h"
#include "app/exchange/seal.h"
#include "tests/fuzz/fuzz.h"

using namespace nearpoint;

void FuzzOne(std::string_view input) {
  constexpr std::size_t kMostWords = 300;
  Require(ReasonOf(input).size() <= kMostWords);
  (void)IsCarriedOut(input, 2);
  const auto page = ReadSealedFilesPage(input);
  if (!page) return;
  static const Identity recipient = Identity::FromSeeds({}, {});
  for (const auto& file : page->files) {
    Require(!file.sealed.empty() && file.sealed.size() <= input.size());
    (void)Unseal(file.sealed, recipient);
  }
}
