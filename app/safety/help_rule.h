// When somebody must be seen, how soon, and when to stop: written once, for every page, sheet,
// letter and report that says it. The German speaks to nobody in particular, so that it serves
// readers who are called du and those who are called Sie.
//
// Sources: acute double vision, suddenly unequal pupils and sudden loss of sight belong into an
// emergency department (SA Health, criteria for referral to neuro-ophthalmology); what must be
// asked about double vision: sudden or gradual, pain, weakness, a drooping lid, a blow to the head
// (Low et al., BMJ 2015;351:h5385). Pain and a new headache "today", and when to stop: common
// practice, no source.
#pragma once

#include <string>
#include <vector>

#include "app/safety/words_in.h"

namespace nearpoint {

// What to do about double vision that stays.
[[nodiscard]] std::string DoubleVisionRule(WordsIn words);
// The other signs with which nobody measures or exercises, and what to do about them.
[[nodiscard]] std::string OtherSignsRule(WordsIn words);
// Both of them, for whoever reads one paragraph only.
[[nodiscard]] std::string HelpRule(WordsIn words);

// The same signs as the lines of a list: those for an emergency department, and those to be seen
// today.
[[nodiscard]] std::vector<std::string> EmergencySigns(WordsIn words);
[[nodiscard]] std::vector<std::string> TodaySigns(WordsIn words);

// When to stop a measurement or an exercise, as lines of a list and as one sentence.
[[nodiscard]] std::vector<std::string> StopSigns(WordsIn words);
[[nodiscard]] std::string StopRule(WordsIn words);
// Who does it only as an eye-care professional says, as lines of a list and as one sentence.
[[nodiscard]] std::vector<std::string> OnlyWithProfessional(WordsIn words);
[[nodiscard]] std::string OnlyWithProfessionalRule(WordsIn words);

}  // namespace nearpoint
