#include "app/report/session_words.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "app/measure/shown_number.h"
#include "app/safety/help_rule.h"

namespace nearpoint {
namespace {

std::string Formatted(const char* format, double value) {
  char text[512];
  std::snprintf(text, sizeof text, format, value);
  return text;
}

std::string Mm(double mm) { return ShownNumber(mm, 0); }
std::string Cm(double mm) { return ShownCentimeters(mm); }

// "78 mm (95 % band 69 to 88 mm)", or what a bound allows to say.
std::string BandText(const std::optional<Band>& band) {
  if (!band) return "not known";
  if (band->value) {
    return Mm(*band->value) + " mm (95 % band " + Mm(band->low) + " to " +
           Mm(band->high.value_or(*band->value)) + " mm)";
  }
  if (band->high) return "nearer than " + Mm(*band->high) + " mm (single to the nearest distance)";
  return "farther than " + Mm(band->low) + " mm (double from the start)";
}

std::string WhenText(const StoredSession& session) {
  const auto& moment = session.data.started_at;
  if (!moment) return "When it was measured is not stated.";
  constexpr std::size_t kDay = 10;
  std::string text = "Measured on " + moment->text.substr(0, kDay);
  if (moment->hour) {
    const int minutes = static_cast<int>(*moment->hour * 60);
    char clock[16];
    std::snprintf(clock, sizeof clock, " at %02d:%02d", minutes / 60 % 24, minutes % 60);
    text += clock;
  }
  return text + ".";
}

std::string RecordResult(const StoredSession& session) {
  const Estimate& estimate = session.estimate;
  std::string text = "Break " + BandText(estimate.break_mm) + ", recovery " +
                     BandText(estimate.recovery_mm) + ", counted from the " +
                     estimate.reference_plane + ": " + std::string(ToText(estimate.answer)) +
                     " of " + Formatted("%g", std::round(estimate.cut_off.mm() * 10) / 10) + " mm";
  if (estimate.probability_beyond) {
    text += Formatted(" (chance of being beyond it: %.1f %%)", 100 * *estimate.probability_beyond);
  }
  return text + ".";
}

std::string ParentResult(const StoredSession& session) {
  const Estimate& estimate = session.estimate;
  const auto& band = estimate.break_mm;
  if (!band) return "The measurement gave no result.";
  if (band->value) {
    return "The target turned into two at about " + Cm(*band->value) +
           " from the eyes. The true distance lies most likely between " + Cm(band->low) + " and " +
           Cm(band->high.value_or(*band->value)) + ".";
  }
  if (band->high) {
    return "The target stayed one down to the nearest distance that could be measured: it turns "
           "into two nearer than " +
           Cm(*band->high) + ", if at all.";
  }
  return "The target was two already at the start, farther away than " + Cm(band->low) + ".";
}

std::string PlainResult(Answer answer) {
  switch (answer) {
    case Answer::kBeyond:
      return "In this measurement the target turned into two farther away than is usual.";
    case Answer::kWithin:
      return "In this measurement the target stayed one as near as is usual.";
    case Answer::kCannotTell:
      return "This measurement does not allow an answer.";
  }
  return "";
}

std::string MeaningText(Answer answer, Reader reader) {
  if (reader == Reader::kRecord) {
    return "If the session were repeated many times, bands made like this would hold the true "
           "value "
           "19 times in 20. The near point alone does not make a diagnosis: phoria, reserves, "
           "symptoms, refraction and ocular health belong to it.";
  }
  switch (answer) {
    case Answer::kBeyond:
      return "This can have several reasons. It is a screening measurement and not a diagnosis: "
             "only "
             "an examination can tell.";
    case Answer::kWithin:
      return "That says nothing about other parts of seeing: glasses, eye health and reading are "
             "not tested here. It is a screening measurement and not a diagnosis.";
    case Answer::kCannotTell:
      return "The values lie too close to the limit, or there are too few of them. That is not a "
             "bad result; it is none.";
  }
  return "";
}

std::string NextText(Answer answer, Reader reader) {
  if (reader == Reader::kRecord) {
    return "Local rules and the judgement of the licensed practitioner come first.";
  }
  switch (answer) {
    case Answer::kBeyond:
      return "Next step: an appointment with an eye-care professional, with this page.";
    case Answer::kWithin:
      return "Next step: none because of this measurement. With complaints when reading, double "
             "vision or headaches, see an eye-care professional all the same.";
    case Answer::kCannotTell:
      return "Next step: measure again on another day, rested and at the same time of day. If it "
             "stays open, or there are complaints, see an eye-care professional.";
  }
  return "";
}

std::string TrialsText(const StoredSession& session) {
  const Estimate& estimate = session.estimate;
  std::string text = std::to_string(estimate.trials_used) + " of " +
                     std::to_string(session.data.trials.size()) + " trials count";
  const int bounds = estimate.trials_censored_below + estimate.trials_censored_above;
  if (bounds > 0) text += ", " + std::to_string(bounds) + " of them as a bound";
  std::vector<std::string> reasons;
  for (const Trial& trial : session.data.trials) {
    if (!trial.set_aside) continue;
    reasons.push_back("trial " + std::to_string(trial.number) +
                      " set aside: " + SetAsideText(trial));
  }
  for (const std::string& reason : reasons) text += "; " + reason;
  return text + ".";
}

std::string MethodText(const StoredSession& session) {
  std::string text =
      "The target comes nearer until the person reports two, and goes back until it "
      "is one. Target: " +
      session.target.value_or("not stated") + ". Mean speed: ";
  double sum = 0;
  int count = 0;
  for (const Trial& trial : session.data.trials) {
    if (trial.set_aside || !trial.approach_speed) continue;
    sum += trial.approach_speed->mm_per_s();
    ++count;
  }
  text += count > 0 ? Mm(sum / count) + " mm/s" : "not known";
  text += ". Counted from the " + session.estimate.reference_plane + ".";
  if (session.estimate.lag_correction_mm) {
    text += Formatted(" Corrected for the time a key press takes (%+.1f mm).",
                      *session.estimate.lag_correction_mm);
  }
  return text;
}

std::string CalibrationText(const StoredSession& session) {
  const SharedCalibration& shared = session.data.shared;
  if (shared.relative_sd == 0 && shared.offset_sd.mm() == 0) {
    return "Not stated; the band holds the scatter of the trials alone.";
  }
  return Formatted("Scale known to %.1f %%", 100 * shared.relative_sd) +
         Formatted(", zero to %.1f mm (one standard deviation", shared.offset_sd.mm()) +
         Formatted("); together %.1f mm at the near point, alike in all trials.",
                   session.estimate.shared_sd_mm);
}

}  // namespace

std::optional<Reader> ParseReader(std::string_view text) {
  if (text == "record") return Reader::kRecord;
  if (text == "parent") return Reader::kParent;
  if (text == "school") return Reader::kSchool;
  return std::nullopt;
}

SessionWords WordsOf(const StoredSession& session, Reader reader) {
  const Estimate& estimate = session.estimate;
  SessionWords words;
  words.title =
      reader == Reader::kRecord ? "Near point of convergence" : "How near the eyes work together";
  words.when = WhenText(session);
  words.simulated = session.source.starts_with("simulated patient");
  words.picture = reader != Reader::kSchool;
  switch (reader) {
    case Reader::kRecord:
      words.result = RecordResult(session);
      break;
    case Reader::kParent:
      words.result = ParentResult(session) + " " + PlainResult(estimate.answer);
      break;
    case Reader::kSchool:
      words.result = PlainResult(estimate.answer);
      break;
  }
  words.meaning = MeaningText(estimate.answer, reader);
  words.next = NextText(estimate.answer, reader);
  const std::string norm = session.cut_off_from.empty() ? "not stated" : session.cut_off_from;
  if (reader == Reader::kRecord) {
    words.facts.emplace_back("Method", MethodText(session));
    words.facts.emplace_back("Trials", TrialsText(session));
    words.facts.emplace_back("Limit", norm + ".");
    words.facts.emplace_back("Calibration", CalibrationText(session));
    words.cautions = session.cautions;
  } else if (reader == Reader::kParent) {
    words.facts.emplace_back("Limit", Cm(estimate.cut_off.mm()) + " from the " +
                                          estimate.reference_plane + ": " + norm + ".");
    words.facts.emplace_back("Trials", std::to_string(estimate.trials_used) + " of " +
                                           std::to_string(session.data.trials.size()) + " count.");
  }
  words.facts.emplace_back("Software", session.software.value_or("not stated"));
  words.cautions.push_back(HelpRule(WordsIn::kEnglish));
  return words;
}

}  // namespace nearpoint
