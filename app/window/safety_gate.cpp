#include "app/window/safety_gate.h"

#include <limits>

#include "app/window/app_context.h"
#include "app/window/pending_writes.h"

namespace nearpoint {
namespace {

RowId PersonOf(const AppContext& context) { return context.person ? context.person->id : 0; }

// Newer than all that the file has, and than what was said before.
std::int64_t NextNumber() {
  static std::int64_t number = std::numeric_limits<std::int64_t>::max() / 2;
  return ++number;
}

}  // namespace

Result<SafetyFacts> FactsOf(const AppContext& context) {
  auto facts = SafetyStore(context.store).FactsOf(PersonOf(context));
  if (!facts) return facts;
  if (const auto said = context.safety_said.find(PersonOf(context));
      said != context.safety_said.end()) {
    const SafetyFacts& now = said->second;
    if (now.whole) facts->whole = now.whole;
    if (now.today) facts->today = now.today;
    if (now.told) facts->told = now.told;
  }
  if (const auto trouble = context.safety_trouble.find(PersonOf(context));
      trouble != context.safety_trouble.end()) {
    facts->trouble = trouble->second;
  }
  if (context.person) {
    facts->may_be_under_twelve =
        MayBeUnderTwelve(context.person->birth_year, context.store.Now().date().year());
  }
  return facts;
}

bool IsBlocked(const AppContext& context) {
  const auto facts = FactsOf(context);
  return facts && (StopOf(*facts) != Stop::kNone || facts->trouble);
}

Result<SafetyStep> StepBefore(const AppContext& context, PageId wanted) {
  const auto facts = FactsOf(context);
  if (!facts) return tl::unexpected(facts.error());
  return NextSafetyStep(
      *facts, context.safety_now,
      wanted == PageId::kExercise ? SafetyFor::kExercise : SafetyFor::kMeasurement,
      SecondsOf(context.store.Now()));
}

PageId Admit(AppContext& context, PageId wanted) {
  if (wanted != PageId::kMeasure && wanted != PageId::kExercise) {
    // Whoever goes elsewhere is asked anew.
    if (wanted != PageId::kSafety) {
      context.safety_wanted.reset();
      context.safety_now = {};
    }
    return wanted;
  }
  if (context.practice) return wanted;
  const auto step = StepBefore(context, wanted);
  if (!step || *step != SafetyStep::kMayBegin) {
    context.safety_wanted = wanted;
    return PageId::kSafety;
  }
  context.safety_wanted.reset();
  context.safety_now = {};
  return wanted;
}

Result<void> KeepAnswers(AppContext& context, SafetyStore::Kind kind,
                         const SafetyAnswers& answers) {
  SafetyFacts& said = context.safety_said[PersonOf(context)];
  const SafetyFacts::Check check{SecondsOf(context.store.Now()), answers, NextNumber()};
  switch (kind) {
    case SafetyStore::Kind::kWhole:
      said.whole = check;
      break;
    case SafetyStore::Kind::kToday:
      said.today = check;
      break;
    case SafetyStore::Kind::kTold:
      said.told = check;
      break;
  }
  return context.pending->Do([&store = context.store, person = PersonOf(context), kind, answers] {
    return SafetyStore(store).Keep(person, kind, answers);
  });
}

Result<void> KeepWhomAsked(AppContext& context, const QString& whom) {
  context.safety_trouble[PersonOf(context)] = false;
  return context.pending->Do([&store = context.store, person = PersonOf(context), whom] {
    return SafetyStore(store).KeepWhom(person, whom);
  });
}

bool IsTroubleWord(const QString& comfort) {
  return comfort == "double" || comfort == "discomfort";
}

void HeedComfort(AppContext& context, const QString& comfort) {
  if (context.practice || !IsTroubleWord(comfort)) return;
  context.safety_trouble[PersonOf(context)] = true;
}

}  // namespace nearpoint
