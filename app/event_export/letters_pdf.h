// The letters to parents, one page each, several at once.
#pragma once

#include <span>
#include <string>

#include "app/event_export/letter_words.h"
#include "app/print/paper.h"

namespace nearpoint {

struct LetterOptions {
  LetterLanguage language = LetterLanguage::kEnglish;
  PaperSize paper = PaperSize::kA4;
};

// The PDF with a page for each child, in that order. kInsufficient: no child; kNotWritable.
[[nodiscard]] Result<std::string> LettersPdf(std::span<const ChildState* const> children,
                                             const EventOpened& event,
                                             const LetterOptions& options = {});

// Who gets a letter: everybody with a finding, first those who need looking after, measured or not.
// only_action: those who have to do something.
[[nodiscard]] std::vector<const ChildState*> WhoGetsALetter(const EventState& state,
                                                            bool only_action);

}  // namespace nearpoint
