// Counts distances that were given where nobody is, and how long they lasted.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace nearpoint::bench {

class FalseAnswers {
 public:
  // Frames that follow each other belong to one sequence; the next one starts afresh.
  void StartSequence() { in_a_row_ = 0; }

  // place: what to call the picture in the list.
  void Add(const std::string& place, bool answered) {
    ++frames_;
    in_a_row_ = answered ? in_a_row_ + 1 : 0;
    if (!answered) return;
    ++answers_;
    ++places_[place];
    if (in_a_row_ == 2) ++lasting_;
  }

  [[nodiscard]] std::int64_t frames() const { return frames_; }
  [[nodiscard]] std::int64_t answers() const { return answers_; }
  // Times that an answer stood in two frames in a row, or more.
  [[nodiscard]] std::int64_t lasting() const { return lasting_; }
  [[nodiscard]] const std::map<std::string, int>& places() const { return places_; }

 private:
  std::int64_t frames_ = 0, answers_ = 0, lasting_ = 0;
  int in_a_row_ = 0;
  std::map<std::string, int> places_;
};

}  // namespace nearpoint::bench
