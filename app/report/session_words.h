// What a report of one session says, for three readers. Words only; session_page.h sets them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "app/records/stored_session.h"

namespace nearpoint {

enum class Reader {
  kRecord,  // a clinician's file: everything, in millimetres
  kParent,  // plain words, in centimetres, with what to do
  kSchool,  // the outcome and the next step; no measured values: a school needs none
};
[[nodiscard]] std::optional<Reader> ParseReader(std::string_view text);  // record, parent, school

struct SessionWords {
  std::string title;
  std::string when;     // the day and time of the measurement, or that it is not stated
  std::string result;   // one sentence
  std::string meaning;  // what that says and what it does not
  std::string next;     // what to do now
  // Name and text: method, norm and its source, calibration, trials, software.
  std::vector<std::pair<std::string, std::string>> facts;
  std::vector<std::string> cautions;
  bool simulated = false;  // of a simulated patient: the page must say so across its whole width
  bool picture = true;     // whether this reader gets the distance scale
};

[[nodiscard]] SessionWords WordsOf(const StoredSession& session, Reader reader);

}  // namespace nearpoint
