// nearpoint event: a school event from its set-up to its deletion, step by step from the command
// line. Every command prints JSON or a table on standard output.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <memory>

#include "app/event_cli/event_options.h"

namespace nearpoint {

struct EventArguments;

// Adds the command with its own subcommands. The arguments live as long as the returned object.
[[nodiscard]] std::shared_ptr<EventArguments> AddEventCommands(CLI::App& app,
                                                               std::function<Result<void>()>& work);

// The work of the subcommands, one function each.
struct NewEventArguments {
  EventFolder place;
  std::string name, day;
  RuleArguments rule;
};
[[nodiscard]] Result<void> RunEventNew(const NewEventArguments& arguments);

struct YieldArguments {
  RuleArguments rule;
  std::string equipment = "all";
  int children = 200;
  int simulated = 2000;
  double beyond_share = 0.15;
  std::uint64_t seed = 1;
};
[[nodiscard]] Result<void> RunEventYield(const YieldArguments& arguments);

struct ImportArguments {
  EventFolder place;
  std::string file;
  std::vector<std::string> columns;  // "name=2"
  std::vector<int> ignore;           // columns that are not needed, from 1
  bool check_only = false;
};
[[nodiscard]] Result<void> RunEventImport(const ImportArguments& arguments);

struct StationArguments {
  EventFolder place;
  std::optional<std::string> name, server, volunteer;
  std::string join, certificate;  // files
};
[[nodiscard]] Result<void> RunEventStation(const StationArguments& arguments);
[[nodiscard]] Result<void> RunEventMerge(const EventFolder& place);

struct ScriptArguments {
  EventFolder place;
  std::string script;
  int pause_ms = 0;     // between two lines
  int merge_for_s = 0;  // at the end, until the server has everything
};
[[nodiscard]] Result<void> RunEventScript(const ScriptArguments& arguments);

struct NumbersArguments {
  EventFolder place;
  bool children = false;  // the list with names instead of the numbers
};
[[nodiscard]] Result<void> RunEventNumbers(const NumbersArguments& arguments);

struct LettersArguments {
  EventFolder place;
  std::string out, language = "en", paper = "a4";
  bool all = false;
};
[[nodiscard]] Result<void> RunEventLetters(const LettersArguments& arguments);

struct WristbandsArguments {
  EventFolder place;
  std::string out, paper = "a4";
};
[[nodiscard]] Result<void> RunEventWristbands(const WristbandsArguments& arguments);

struct EventExportArguments {
  EventFolder place;
  std::string out;
};
[[nodiscard]] Result<void> RunEventExport(const EventExportArguments& arguments);

struct EventDeleteArguments {
  EventFolder place;
  std::string confirm;  // the name of the event, typed again
  bool here = false;    // on this station alone, whatever it holds
  bool where = false;   // only say which stations have confirmed
};
[[nodiscard]] Result<void> RunEventDelete(const EventDeleteArguments& arguments);

}  // namespace nearpoint
