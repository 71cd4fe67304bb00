#include "app/event_cli/event_commands.h"

namespace nearpoint {

struct EventArguments {
  NewEventArguments begin;
  YieldArguments yield;
  ImportArguments import;
  StationArguments station;
  EventFolder merge;
  ScriptArguments script;
  WristbandsArguments wristbands;
  NumbersArguments numbers;
  LettersArguments letters;
  EventExportArguments export_to;
  EventDeleteArguments remove;
};

namespace {

void AddPlace(CLI::App& command, EventFolder& place) {
  command.add_option("--data", place.data, "folder of this station; default: your own data folder");
  command.add_option("--event", place.event, "its name or id; default: the newest");
}

void AddRule(CLI::App& command, RuleArguments& rule) {
  command
      .add_option("--norm", rule.norm, "published limit, or by-age for the one of each child's age")
      ->capture_default_str();
  command.add_option("--plane", rule.plane, "that values are shown from")
      ->check(CLI::IsMember({"corneal", "spectacle", "lateral", "centre"}))
      ->capture_default_str();
  command.add_option("--least-trials", rule.least_trials, "that count")->capture_default_str();
  command.add_option("--most-trials", rule.most_trials, "made")->capture_default_str();
  command
      .add_option("--refer-from", rule.refer_from,
                  "probability of being beyond the limit from which a professional is advised")
      ->capture_default_str();
  command
      .add_option("--repeat-from", rule.repeat_from,
                  "probability from which measuring again is advised")
      ->capture_default_str();
}

class Adder {
 public:
  Adder(CLI::App& event, std::function<Result<void>()>& work) : event_(event), work_(work) {}

  template <typename Arguments>
  CLI::App& Add(const char* name, const char* help, const Arguments& arguments,
                Result<void> (*run)(const Arguments&)) {
    CLI::App* const command = event_.add_subcommand(name, help);
    command->callback([this_work = &work_, &arguments, run] {
      *this_work = [&arguments, run] { return run(arguments); };
    });
    return *command;
  }

 private:
  CLI::App& event_;
  std::function<Result<void>()>& work_;
};

void AddBefore(Adder& adder, EventArguments& arguments) {
  CLI::App& begin = adder.Add("new", "Begins an event: its name, its day, its rule",
                              arguments.begin, RunEventNew);
  AddPlace(begin, arguments.begin.place);
  begin.add_option("--name", arguments.begin.name, "of the event")->required();
  begin.add_option("--day", arguments.begin.day, "like 2026-03-14")->required();
  AddRule(begin, arguments.begin.rule);

  YieldArguments& yield = arguments.yield;
  CLI::App& yields = adder.Add(
      "yield", "What a rule will bring: how many sent on, how many for nothing, how many missed",
      yield, RunEventYield);
  AddRule(yields, yield.rule);
  yields.add_option("--equipment", yield.equipment, "webcam, camera, card, or all")
      ->capture_default_str();
  yields.add_option("--children", yield.children, "that the answer is stated for")
      ->check(CLI::Range(1, 100000))
      ->capture_default_str();
  yields.add_option("--beyond-share", yield.beyond_share, "of children truly beyond the limit")
      ->capture_default_str();
  yields.add_option("--simulated", yield.simulated, "children it is computed with")
      ->check(CLI::Range(100, 1000000))
      ->capture_default_str();
  yields.add_option("--seed", yield.seed, "other children for another number")
      ->capture_default_str();

  CLI::App& import = adder.Add("import", "The roster: every fault by its row; all children or none",
                               arguments.import, RunEventImport);
  AddPlace(import, arguments.import.place);
  import.add_option("file", arguments.import.file, "CSV in any usual encoding, .xlsx or .ods")
      ->required();
  import
      .add_option("--column", arguments.import.columns,
                  "FIELD=COLUMN where the first row does not tell: number, name, family name, "
                  "class, age, born, consent; columns from 1")
      ->allow_extra_args(false);
  import
      .add_option("--ignore", arguments.import.ignore,
                  "a column that is not needed, from 1; every other one must be understood")
      ->check(CLI::Range(1, 10000))
      ->allow_extra_args(false);
  import.add_flag("--check", arguments.import.check_only, "only report; import nothing");
}

void AddWristbands(Adder& adder, WristbandsArguments& arguments) {
  CLI::App& bands = adder.Add("wristbands", "Labels with QR codes for the wristbands, as a PDF",
                              arguments, RunEventWristbands);
  AddPlace(bands, arguments.place);
  bands.add_option("--out", arguments.out, "the PDF")->required();
  bands.add_option("--paper", arguments.paper)
      ->check(CLI::IsMember({"a4", "letter"}))
      ->capture_default_str();
}

void AddDuring(Adder& adder, EventArguments& arguments) {
  CLI::App& station =
      adder.Add("station", "Names this station, its server and its volunteer; prints them",
                arguments.station, RunEventStation);
  AddPlace(station, arguments.station.place);
  station.add_option("--name", arguments.station.name, "what the others see");
  CLI::Option* const join =
      station.add_option("--join", arguments.station.join,
                         "the file that the server's laptop wrote: address, certificate, password");
  CLI::Option* const server = station
                                  .add_option("--server", arguments.station.server,
                                              "instead: postgresql://USER@HOST:PORT/NAME; \"\" to "
                                              "work alone")
                                  ->excludes(join);
  station
      .add_option("--certificate", arguments.station.certificate,
                  "with --server on another machine: who vouches for it, a PEM file")
      ->needs(server);
  station.add_option("--volunteer", arguments.station.volunteer, "who measures now");

  CLI::App& merge = adder.Add("merge", "Hands over to the server and takes from it what is new",
                              arguments.merge, RunEventMerge);
  AddPlace(merge, arguments.merge);

  ScriptArguments& script = arguments.script;
  CLI::App& run = adder.Add(
      "run", "A station without a window: does what each line of a script says, merging as it goes",
      script, RunEventScript);
  AddPlace(run, script.place);
  run.add_option("script", script.script,
                 "lines like {\"do\": \"measure\", \"number\": \"12\", \"session\": {...}}")
      ->required();
  run.add_option("--pause-ms", script.pause_ms, "between two lines")->check(CLI::Range(0, 60000));
  run.add_option("--merge-for-s", script.merge_for_s,
                 "at the end, wait so long for the server to take everything")
      ->check(CLI::Range(0, 3600));
}

void AddAfter(Adder& adder, EventArguments& arguments) {
  CLI::App& numbers = adder.Add("numbers", "The numbers for the organiser, as JSON",
                                arguments.numbers, RunEventNumbers);
  AddPlace(numbers, arguments.numbers.place);
  numbers.add_flag("--children", arguments.numbers.children,
                   "instead the list of children: who needs what, as CSV");

  LettersArguments& letters = arguments.letters;
  CLI::App& letter = adder.Add("letters", "Letters to the parents, one PDF with a page a child",
                               letters, RunEventLetters);
  AddPlace(letter, letters.place);
  letter.add_option("--out", letters.out, "the PDF")->required();
  letter.add_option("--language", letters.language)
      ->check(CLI::IsMember({"en", "de"}))
      ->capture_default_str();
  letter.add_option("--paper", letters.paper)
      ->check(CLI::IsMember({"a4", "letter"}))
      ->capture_default_str();
  letter.add_flag("--all", letters.all, "also those who need not do anything");

  CLI::App& export_to =
      adder.Add("export", "CSV tables and FHIR bulk data (NDJSON) into a folder; holds names",
                arguments.export_to, RunEventExport);
  AddPlace(export_to, arguments.export_to.place);
  export_to.add_option("--out", arguments.export_to.out, "the folder")->required();

  EventDeleteArguments& remove = arguments.remove;
  CLI::App& deletion = adder.Add(
      "delete",
      "Deletes an event from the server and all stations; each confirms at its next merge", remove,
      RunEventDelete);
  AddPlace(deletion, remove.place);
  deletion.add_option("--confirm", remove.confirm, "the name of the event");
  deletion.add_flag("--here", remove.here, "on this station, also what reached nobody yet");
  deletion.add_flag("--where", remove.where, "only say which stations have deleted it");
}

}  // namespace

std::shared_ptr<EventArguments> AddEventCommands(CLI::App& app,
                                                 std::function<Result<void>()>& work) {
  auto arguments = std::make_shared<EventArguments>();
  CLI::App* const event = app.add_subcommand(
      "event", "A school event: many children, several stations, letters, numbers, deletion");
  event->require_subcommand(1);
  Adder adder(*event, work);
  AddBefore(adder, *arguments);
  AddWristbands(adder, arguments->wristbands);
  AddDuring(adder, *arguments);
  AddAfter(adder, *arguments);
  return arguments;
}

}  // namespace nearpoint
