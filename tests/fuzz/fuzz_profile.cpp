// PROFILE.json.
#include "calibration/profile_json.h"
#include "tests/fuzz/fuzz.h"

void FuzzOne(std::string_view input) { (void)nearpoint::ParseProfile(input, "fuzz"); }
