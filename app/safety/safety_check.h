// The questions that stand before a measurement or an exercise at home, and what follows from the
// answers: which question is next, whether anything applies, and when to ask again.
#pragma once

#include <chrono>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace nearpoint {

// A yes or a no each. The lists behind them: what must be seen by somebody (help_rule.h), and who
// is left out of the published trials of convergence treatment.
enum class SafetyQuestion {
  // The whole check.
  kDoubleVision,  // sudden, or always there
  kSigns,         // lid, pupils, weakness, numbness, speech, sight
  kPain,          // of an eye, or a new headache
  kHeadBlow,      // or a concussion, not long ago
  kSquint,        // or a weak eye, or trembling eyes
  kOperation,     // of an eye, or a disease of the nerves
  kAgreed,  // after a yes to one of the last three: an eye-care professional said it may be done
  // Before each measurement and each exercise.
  kNewToday,
  kAdultBeside,  // for a child under twelve
  // Before an exercise without a clinician's plan.
  kToldToExercise,
};
[[nodiscard]] std::string_view ToText(SafetyQuestion question);  // "double_vision", for files
[[nodiscard]] std::optional<SafetyQuestion> ParseSafetyQuestion(std::string_view text);

using SafetyAnswers = std::map<SafetyQuestion, bool>;

// The next question of the whole check; nothing after the last.
[[nodiscard]] std::optional<SafetyQuestion> NextOfCheck(const SafetyAnswers& answers);
// How many questions there are after these answers, and the number of that one, from 1.
[[nodiscard]] int QuestionsOfCheck(const SafetyAnswers& answers);
[[nodiscard]] int NumberInCheck(SafetyQuestion question);

enum class Stop {
  kNone,
  kAskFirst,  // only as an eye-care professional says
  kBeSeen,    // a sign that somebody must look at, now or today
};
// What answers of the whole check, or of the day, say. Unanswered questions say nothing.
[[nodiscard]] Stop StopFor(const SafetyAnswers& answers);

// After so long the whole check is asked again. Common practice, no source.
inline constexpr std::chrono::days kAskAgainAfter{30};

// Whether somebody born in that year may still be under twelve, which measures and exercises with
// an adult beside it only. The day of birth is not asked, so the whole year counts. Common
// practice, no source.
inline constexpr int kAloneFromAge = 12;
[[nodiscard]] bool MayBeUnderTwelve(std::optional<int> birth_year, int this_year);

// What is known of one person. Times: of the day, from any fixed beginning.
struct SafetyFacts {
  struct Check {
    std::chrono::seconds at{};
    SafetyAnswers answers;
    std::int64_t number = 0;  // larger: given later
  };
  std::optional<Check> whole;  // the newest of each kind
  std::optional<Check> today;  // kNewToday
  std::optional<Check> told;   // kToldToExercise
  // After the last measurement or exercise there was pain, or double vision that stayed, and nobody
  // has been asked since.
  bool trouble = false;
  bool may_be_under_twelve = false;
  bool plan_by_clinician = false;
};

// Stop until a person answers the whole check otherwise: the newer of the whole check and the day's
// question decides.
[[nodiscard]] Stop StopOf(const SafetyFacts& facts);

enum class SafetyStep {
  kMayBegin,
  kStopped,   // something applies
  kAskWhom,   // trouble: whom did you ask?
  kWhole,     // the whole check is to be asked
  kNewToday,  // the short question is
  kAdult,     // whether an adult is beside the child
  kTold,      // whether an eye-care professional told to exercise
};
// What has been answered on the way to this measurement or exercise; it does not outlive it.
struct SafetyNow {
  bool today = false;  // the short question, or the whole check that has just been answered
  bool adult = false;  // said to be beside the child
};
enum class SafetyFor { kMeasurement, kExercise };
[[nodiscard]] SafetyStep NextSafetyStep(const SafetyFacts& facts, const SafetyNow& now,
                                        SafetyFor what, std::chrono::seconds time);

}  // namespace nearpoint
