// What all `nearpoint event` commands share: the folder of the station, the event, the rule.
#pragma once

#include <optional>
#include <string>

#include "app/event_store/event_desk.h"

namespace nearpoint {

struct EventFolder {
  std::string data;   // folder of the station; empty: the user's own data folder
  std::string event;  // id or name; empty: the station's current event, else its newest
};

struct RuleArguments {
  std::string norm = "hayes-1998";
  std::string plane = "spectacle";
  int least_trials = 2;
  int most_trials = 3;
  double refer_from = 0.80;
  double repeat_from = 0.50;
};

// event.db in the folder. Makes an application object if the process has none, which Qt's SQL parts
// need.
[[nodiscard]] Result<EventStore> OpenStation(const std::string& data);
// The file of a station's records, where --data is not given.
[[nodiscard]] std::string EventFile(const std::string& data);

// kNotFound names what is there.
[[nodiscard]] Result<Uuid> ChooseEvent(const EventStore& store, const std::string& wanted);
[[nodiscard]] Result<EventDesk> OpenDesk(EventStore& store, const std::string& wanted);

[[nodiscard]] Result<EventRule> RuleOf(const RuleArguments& arguments);

// The day of an event as the roster's ages need it.
[[nodiscard]] RosterRules RosterRulesFor(const std::string& day);

}  // namespace nearpoint
