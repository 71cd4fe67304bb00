// What the letter to a child's parents says. Own wording, in two languages; words only,
// letters_pdf.h sets them.
#pragma once

#include <string>
#include <vector>

#include "app/event/event_state.h"

namespace nearpoint {

enum class LetterLanguage { kEnglish, kGerman };

struct LetterWords {
  std::string title;
  std::string to;                     // "To the parents of ..."
  std::string what;                   // what was measured, and how
  std::string result;                 // the number with its plane and its band
  std::string advice;                 // what to do now
  std::vector<std::string> cautions;  // what it does not say; when not to wait
  std::string sign;                   // a line to sign, and to ask
};

// Of a child with a finding. day: as the event has it.
[[nodiscard]] LetterWords LetterFor(const ChildState& child, const EventOpened& event,
                                    LetterLanguage language);

}  // namespace nearpoint
