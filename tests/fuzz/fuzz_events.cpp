// EVENTS.jsonl.
#include "app/records/events_jsonl.h"
#include "tests/fuzz/fuzz.h"

void FuzzOne(std::string_view input) { (void)nearpoint::ParseEvents(input, "fuzz"); }
