// The languages of sentences that stand in more than one part of the program.
#pragma once

namespace nearpoint {

enum class WordsIn { kEnglish, kGerman };

}  // namespace nearpoint
