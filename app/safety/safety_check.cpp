#include "app/safety/safety_check.h"

#include <algorithm>
#include <array>
#include <utility>

namespace nearpoint {
namespace {

using enum SafetyQuestion;

constexpr std::array<std::pair<SafetyQuestion, std::string_view>, 10> kNames{{
    {kDoubleVision, "double_vision"},
    {kSigns, "signs"},
    {kPain, "pain"},
    {kHeadBlow, "head_blow"},
    {kSquint, "squint"},
    {kOperation, "operation"},
    {kAgreed, "professional_agreed"},
    {kNewToday, "new_today"},
    {kAdultBeside, "adult_beside"},
    {kToldToExercise, "told_to_exercise"},
}};

constexpr std::array kBeSeenBy{kDoubleVision, kSigns, kPain};
constexpr std::array kAskFirstAbout{kHeadBlow, kSquint, kOperation};
constexpr std::array kAlways{kDoubleVision, kSigns, kPain, kHeadBlow, kSquint, kOperation};

bool Yes(const SafetyAnswers& answers, SafetyQuestion question) {
  const auto found = answers.find(question);
  return found != answers.end() && found->second;
}

bool AnyYes(const SafetyAnswers& answers, const auto& questions) {
  return std::ranges::any_of(questions,
                             [&](SafetyQuestion question) { return Yes(answers, question); });
}

bool AsksForAgreement(const SafetyAnswers& answers) {
  return AnyYes(answers, kAskFirstAbout) && !AnyYes(answers, kBeSeenBy);
}

}  // namespace

std::string_view ToText(SafetyQuestion question) {
  const auto* const found =
      std::ranges::find(kNames, question, &std::pair<SafetyQuestion, std::string_view>::first);
  return found != kNames.end() ? found->second : std::string_view();
}

std::optional<SafetyQuestion> ParseSafetyQuestion(std::string_view text) {
  const auto* const found =
      std::ranges::find(kNames, text, &std::pair<SafetyQuestion, std::string_view>::second);
  if (found == kNames.end()) return std::nullopt;
  return found->first;
}

std::optional<SafetyQuestion> NextOfCheck(const SafetyAnswers& answers) {
  for (const SafetyQuestion question : kAlways) {
    if (!answers.contains(question)) return question;
  }
  if (AsksForAgreement(answers) && !answers.contains(kAgreed)) return kAgreed;
  return std::nullopt;
}

int QuestionsOfCheck(const SafetyAnswers& answers) {
  return static_cast<int>(kAlways.size()) + (AsksForAgreement(answers) ? 1 : 0);
}

int NumberInCheck(SafetyQuestion question) {
  const auto* const found = std::ranges::find(kAlways, question);
  return static_cast<int>(found - kAlways.begin()) + 1;
}

Stop StopFor(const SafetyAnswers& answers) {
  if (AnyYes(answers, kBeSeenBy) || Yes(answers, kNewToday)) return Stop::kBeSeen;
  if (AnyYes(answers, kAskFirstAbout) && !Yes(answers, kAgreed)) return Stop::kAskFirst;
  return Stop::kNone;
}

bool MayBeUnderTwelve(std::optional<int> birth_year, int this_year) {
  return birth_year && this_year - *birth_year <= kAloneFromAge;
}

Stop StopOf(const SafetyFacts& facts) {
  // Only the whole check takes back what the day's question said.
  const bool newer = facts.today && (!facts.whole || facts.today->number > facts.whole->number);
  const Stop today = newer ? StopFor(facts.today->answers) : Stop::kNone;
  const Stop whole = facts.whole ? StopFor(facts.whole->answers) : Stop::kNone;
  return std::max(today, whole);
}

SafetyStep NextSafetyStep(const SafetyFacts& facts, const SafetyNow& now, SafetyFor what,
                          std::chrono::seconds time) {
  const auto old = [time](const std::optional<SafetyFacts::Check>& check) {
    return !check || time - check->at > kAskAgainAfter;
  };
  if (StopOf(facts) != Stop::kNone) return SafetyStep::kStopped;
  if (facts.trouble) return SafetyStep::kAskWhom;
  if (old(facts.whole)) return SafetyStep::kWhole;
  if (!now.today) return SafetyStep::kNewToday;
  if (facts.may_be_under_twelve && !now.adult) return SafetyStep::kAdult;
  if (what == SafetyFor::kExercise && !facts.plan_by_clinician &&
      (old(facts.told) || !Yes(facts.told->answers, kToldToExercise))) {
    return SafetyStep::kTold;
  }
  return SafetyStep::kMayBegin;
}

}  // namespace nearpoint
