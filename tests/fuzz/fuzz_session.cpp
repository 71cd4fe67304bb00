// SESSION.json, and everything that is made of one.
#include "app/exchange/fhir.h"
#include "app/exchange/research_csv.h"
#include "app/measure/what_if.h"
#include "tests/fuzz/fuzz.h"

using namespace nearpoint;

void FuzzOne(std::string_view input) {
  const auto session = ParseStoredSession(input, "fuzz");
  constexpr std::size_t kQuick = 30;  // trials; more only take longer
  if (!session || session->data.trials.size() > kQuick) return;
  const Estimate estimate = EstimateNearPoint(session->data.trials, session->data.shared);
  if (const auto& band = estimate.break_mm) Require(!band->high || band->low <= *band->high);
  (void)EffectOfRules(session->data.trials, session->data.shared);
  FhirOptions options;
  options.subject = "P01";
  options.recorded = "2026-03-02T08:00:00Z";
  if (const auto bundle = SessionToFhir(*session, input, options)) (void)bundle->dump();
  Require(ResearchCsv({*session}, "P01").has_value());
}
