#include "app/store/safety_store.h"

#include <QSqlQuery>
#include <nlohmann/json.hpp>
#include <optional>

#include "app/store/exercise_store.h"

namespace nearpoint {
namespace {

QVariant PersonOrNull(RowId person) {
  return person == 0 ? QVariant(QMetaType::fromType<RowId>()) : QVariant(person);
}
QString TimeText(const QDateTime& time) { return time.toUTC().toString(Qt::ISODateWithMs); }

const char* KindText(SafetyStore::Kind kind) {
  switch (kind) {
    case SafetyStore::Kind::kWhole:
      return "whole";
    case SafetyStore::Kind::kToday:
      return "today";
    case SafetyStore::Kind::kTold:
      return "told";
  }
  return "";
}

std::string AnswersText(const SafetyAnswers& answers) {
  nlohmann::json json = nlohmann::json::object();
  for (const auto& [question, yes] : answers) json[std::string(ToText(question))] = yes;
  return json.dump();
}

Result<SafetyAnswers> ParseAnswers(const std::string& text) {
  const auto json = nlohmann::json::parse(text, nullptr, /*allow_exceptions=*/false);
  if (!json.is_object()) {
    return Fail(ErrorCode::kBadValue, "safety answers in the store: expected an object.");
  }
  SafetyAnswers answers;
  for (const auto& [name, yes] : json.items()) {
    if (!yes.is_boolean()) {
      return Fail(ErrorCode::kBadValue,
                  "safety answers in the store: \"" + name + "\" is neither true nor false.");
    }
    // A question of a newer program is not one that this program asks.
    if (const auto question = ParseSafetyQuestion(name)) answers[*question] = yes.get<bool>();
  }
  return answers;
}

Result<std::optional<SafetyFacts::Check>> Newest(const Database& database, RowId person,
                                                 SafetyStore::Kind kind) {
  auto query = database.Run(
      "SELECT id, given_at, answers_json FROM safety_answer WHERE person IS ? AND kind = ? "
      "ORDER BY id DESC LIMIT 1",
      {PersonOrNull(person), KindText(kind)});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) return std::optional<SafetyFacts::Check>();
  auto answers = ParseAnswers(query->value(2).toString().toStdString());
  if (!answers) return tl::unexpected(answers.error());
  SafetyFacts::Check check;
  check.at = SecondsOf(QDateTime::fromString(query->value(1).toString(), Qt::ISODateWithMs));
  check.answers = *std::move(answers);
  check.number = query->value(0).toLongLong();
  return std::optional(std::move(check));
}

// Of the sessions since somebody was asked, in that table.
Result<bool> Trouble(const Database& database, RowId person, const char* table, const char* last) {
  auto query = database.Run(
      QString("SELECT EXISTS (SELECT 1 FROM %1 WHERE person IS ? AND practice = 0 AND comfort IN "
              "('double', 'discomfort') AND id > COALESCE((SELECT %2 FROM asked_whom WHERE person "
              "IS ? ORDER BY id DESC LIMIT 1), 0))")
          .arg(table, last),
      {PersonOrNull(person), PersonOrNull(person)});
  if (!query) return tl::unexpected(query.error());
  return query->next() && query->value(0).toBool();
}

}  // namespace

std::chrono::seconds SecondsOf(const QDateTime& time) {
  return std::chrono::seconds(time.toSecsSinceEpoch());
}

Result<void> SafetyStore::Keep(RowId person, Kind kind, const SafetyAnswers& answers) {
  const auto kept = store_.database().Run(
      "INSERT INTO safety_answer (person, given_at, kind, answers_json) VALUES (?, ?, ?, ?)",
      {PersonOrNull(person), TimeText(store_.Now()), KindText(kind),
       QString::fromStdString(AnswersText(answers))});
  if (!kept) return tl::unexpected(kept.error());
  return {};
}

Result<void> SafetyStore::KeepWhom(RowId person, const QString& whom) {
  const QVariant id = PersonOrNull(person);
  const auto kept = store_.database().Run(
      "INSERT INTO asked_whom (person, said_at, whom, last_session, last_exercise) VALUES (?, ?, "
      "?, COALESCE((SELECT MAX(id) FROM session WHERE person IS ?), 0), "
      "COALESCE((SELECT MAX(id) FROM exercise_session WHERE person IS ?), 0))",
      {id, TimeText(store_.Now()), whom, id, id});
  if (!kept) return tl::unexpected(kept.error());
  return {};
}

Result<SafetyFacts> SafetyStore::FactsOf(RowId person) const {
  const Database& database = store_.database();
  SafetyFacts facts;
  const std::pair<Kind, std::optional<SafetyFacts::Check>*> checks[] = {
      {Kind::kWhole, &facts.whole}, {Kind::kToday, &facts.today}, {Kind::kTold, &facts.told}};
  for (const auto& [kind, into] : checks) {
    auto newest = Newest(database, person, kind);
    if (!newest) return tl::unexpected(newest.error());
    *into = *std::move(newest);
  }
  const auto measured = Trouble(database, person, "session", "last_session");
  const auto exercised = Trouble(database, person, "exercise_session", "last_exercise");
  if (!measured || !exercised) {
    return tl::unexpected(!measured ? measured.error() : exercised.error());
  }
  facts.trouble = *measured || *exercised;
  // A plan that cannot be read is nobody's word; the exercise says what is wrong with it.
  const auto plan = ExerciseStore(store_).Plan(person);
  facts.plan_by_clinician = plan && plan->source == PlanSource::kClinician;
  return facts;
}

}  // namespace nearpoint
