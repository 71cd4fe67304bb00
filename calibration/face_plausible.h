// Whether a measured face can be a face: its lengths against published ranges of people.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "calibration/profile.h"

namespace nearpoint {

struct FaceRange {
  std::string_view name;  // as in PROFILE.json
  std::string_view in_words;
  std::optional<UncertainLength> FaceScale::*member;
  double mean_mm = 0, sd_mm = 0;   // of people
  double low_mm = 0, high_mm = 0;  // what is outside asks for a repeat
};

// age: years, absent for an adult or unknown; below 20 the pupil distance and the corners of a
// child are expected. Sources stand beside the values in face_plausible.cpp.
[[nodiscard]] std::vector<FaceRange> FaceRanges(std::optional<double> age);

struct FaceDoubt {
  std::string_view name;  // of the length; empty: all lengths together are off by one factor
  double mm = 0;          // of the length
  double factor = 1;      // of all lengths
  std::string text;       // one sentence
};

// One for each length that people do not have, and one when all lengths are off by the same factor:
// then the card was not as wide as it should be. Empty: nothing speaks against the result. People
// differ so much that a factor shows from 6 % on only; for less the print itself must be measured
// (print_check.h).
[[nodiscard]] std::vector<FaceDoubt> FaceDoubts(const FaceScale& face, std::optional<double> age);

}  // namespace nearpoint
