#include <chrono>
#include <iostream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>

#include "app/cli/console.h"
#include "app/event/by_the_eyes.h"
#include "app/event_cli/event_commands.h"
#include "app/event_store/event_sync.h"
#include "app/records/session_json.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

// What a line does to the child it names.
class Script {
 public:
  explicit Script(EventDesk& desk) : desk_(desk) {}

  Result<void> Do(const std::string& line, const std::string& where) {
    const auto json = ParseJson(line, where);
    if (!json) return tl::unexpected(json.error());
    if (!json->is_object()) return Fail(ErrorCode::kBadValue, where + ": expected an object.");
    if (auto read = desk_.Refresh(); !read) return tl::unexpected(read.error());
    const std::string what = json->value("do", "");
    if (what == "undo") return Ignore(desk_.UndoLast());
    if (what == "hand-over") return desk_.HandOver(json->value("to", ""));
    const std::string number = json->value("number", "");
    if (what == "walk-up") return Ignore(desk_.AddWalkUp(number));
    const ChildState* const child = desk_.state().FindNumber(number);
    if (child == nullptr) {
      return Fail(ErrorCode::kNotFound, where + ": no child has the number \"" + number + "\".");
    }
    const Uuid uuid = child->uuid;
    if (what == "consent") {
      return desk_.TakeConsent(uuid, json->value("given", true), json->value("how", "form"));
    }
    if (what == "renumber") {
      // Of two children under one number, the "nth" that joined.
      const int nth = json->value("nth", 1);
      int seen = 0;
      for (const ChildState& other : desk_.state().children) {
        if (other.child.number != number || ++seen != nth) continue;
        return desk_.Renumber(other.uuid, json->value("to", ""));
      }
      return Fail(ErrorCode::kNotFound, where + ": so many children do not have this number.");
    }
    if (what == "swap") {
      const ChildState* const other = desk_.state().FindNumber(json->value("with", ""));
      if (other == nullptr) return Fail(ErrorCode::kNotFound, where + ": \"with\" is no number.");
      return desk_.Swap(uuid, other->uuid);
    }
    for (const StopReason reason : {StopReason::kPaused, StopReason::kAbsent, StopReason::kUnable,
                                    StopReason::kCaution, StopReason::kDeclined}) {
      if (what == ToText(reason)) return desk_.Stop(uuid, reason);
    }
    if (what == "measure") {
      return Measure(*child, json->value("session", nlohmann::json::object()),
                     json->value("anyway", false), where);
    }
    return Fail(ErrorCode::kBadValue, where + ": \"" + what + "\" is nothing a station does.");
  }

 private:
  template <typename T>
  static Result<void> Ignore(const Result<T>& result) {
    if (!result) return tl::unexpected(result.error());
    return {};
  }

  Result<void> Measure(const ChildState& child, const nlohmann::json& session, bool anyway,
                       const std::string& where) {
    const Uuid uuid = child.uuid;
    const auto age = child.child.age_years;
    const auto trials = ParseSessionTrials(session.dump(), where);
    if (!trials) return tl::unexpected(trials.error());
    if (auto started = desk_.Start(uuid, anyway); !started) return started;
    const EventRule& rule = desk_.state().event.rule;
    const EstimateOptions options = OptionsOf(rule, age);
    ChildMeasured measured =
        MeasuredFrom(trials->trials, {}, trials->shared, options, rule.least_trials);
    measured.seconds = session.value("seconds", 0.0);
    Session whole;
    whole.started_at = desk_.store().Now().toStdString();
    whole.source = "trials of a script";
    whole.shared = trials->shared;
    whole.trials = trials->trials;
    // What a script leaves out was not corrected for a hand's delay.
    for (Trial& trial : whole.trials) {
      for (auto* at : {&trial.break_point, &trial.recovery}) {
        if (*at && (*at)->uncorrected.mm() <= 0) (*at)->uncorrected = (*at)->value.value;
      }
    }
    whole.estimate = EstimateNearPoint(whole.trials, whole.shared, options);
    whole.cut_off_from = std::string(NormOf(rule, age).name);
    return Ignore(desk_.Keep(uuid, measured, SerializeSession(whole)));
  }

  EventDesk& desk_;
};

// Merging goes on in the breaks; without the server the station works alone.
class Merger {
 public:
  explicit Merger(EventStore& store) : store_(store) {}
  bool Try() {
    if (store_.Setting("server").isEmpty()) return true;
    const auto report = link_.Merge(store_);
    const std::string news = report ? std::string() : report.error().message;
    if (news != said_ && !news.empty()) Say(news + " The station goes on alone.");
    if (report && !said_.empty()) Say("The server is there again; everything was handed over.");
    said_ = news;
    return report.has_value();
  }

 private:
  EventStore& store_;
  ServerLink link_;
  std::string said_;
};

}  // namespace

Result<void> RunEventScript(const ScriptArguments& arguments) {
  const auto text = ReadTextFile(arguments.script);
  if (!text) return tl::unexpected(text.error());
  auto store = OpenStation(arguments.place.data);
  if (!store) return tl::unexpected(store.error());
  Merger merger(*store);
  merger.Try();
  auto desk = OpenDesk(*store, arguments.place.event);
  if (!desk) return tl::unexpected(desk.error());
  Script script(*desk);
  std::istringstream lines(*text);
  int number = 0;
  for (std::string line; std::getline(lines, line) && !StopRequested();) {
    ++number;
    if (line.empty()) continue;
    const std::string where = arguments.script + ", line " + std::to_string(number);
    const auto done = script.Do(line, where);
    nlohmann::ordered_json answer{{"line", number}, {"done", done.has_value()}};
    answer["why_not"] = nullptr;
    if (!done) answer["why_not"] = done.error().message;
    std::cout << answer.dump() << std::endl;  // flushed: another program follows
    merger.Try();
    std::this_thread::sleep_for(std::chrono::milliseconds(arguments.pause_ms));
  }
  const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(arguments.merge_for_s);
  while (!merger.Try()) {
    if (std::chrono::steady_clock::now() > until || StopRequested()) {
      const auto waiting = Waiting(*store);
      if (!waiting) return tl::unexpected(waiting.error());
      return Fail(ErrorCode::kUnavailable, std::to_string(*waiting) +
                                               " records wait for the server; they are safe on "
                                               "this station. Run `nearpoint event merge` later.");
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(300));
  }
  return {};
}

}  // namespace nearpoint
