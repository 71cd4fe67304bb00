// Trials and diaries from a spreadsheet, and moments.
#include "app/records/estimate_csv.h"
#include "tests/fuzz/fuzz.h"

using namespace nearpoint;

void FuzzOne(std::string_view input) {
  if (const auto trials = ParseTrialsCsv(input, "fuzz")) Require(!trials->empty());
  if (const auto diary = ParseDiaryCsv(input, "fuzz")) {
    Require(LooksLikeDiary(input));
    for (const DiarySession& session : *diary) Require(!session.trials.empty());
  }
  if (const auto moment = ParseMoment(input)) {
    Require(moment->text == input && (!moment->hour || *moment->hour < 24));
  }
}
