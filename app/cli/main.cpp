// The program `nearpoint`: subcommands, and the window when there is none. Exit status 0 done, 1
// the work could not be done (one sentence on standard error), 2 wrong usage.
#include <CLI/CLI.hpp>
#include <exception>
#include <functional>
#include <map>
#include <optional>
#include <string>

#include "app/cli/calibrate_face.h"
#include "app/cli/calibrate_options.h"
#include "app/cli/console.h"
#include "app/cli/course_commands.h"
#include "app/cli/criteria_command.h"
#include "app/cli/demo_command.h"
#include "app/cli/estimate_command.h"
#include "app/cli/exchange_commands.h"
#include "app/cli/exercise_sheet_command.h"
#include "app/cli/export_commands.h"
#include "app/cli/measure_command.h"
#include "app/cli/review_command.h"
#include "app/cli/track_command.h"
#include "app/event_cli/event_commands.h"
#include "app/records/moment.h"
#include "app/window/run_window.h"

namespace nearpoint {
namespace {

constexpr int kDone = 0;
constexpr int kFailed = 1;
constexpr int kWrongUsage = 2;

constexpr const char* kSourceHelp =
    "camera number, video file, or folder of images with frames.jsonl";

void AddPlaneOption(CLI::App& command, ReferencePlane& chosen, const char* help) {
  command.add_option_function<std::string>(
      "--plane",
      [&chosen](const std::string& name) {
        static const std::map<std::string, ReferencePlane> planes{
            {"corneal", ReferencePlane::kCorneal},
            {"spectacle", ReferencePlane::kSpectacle},
            {"canthus", ReferencePlane::kLateralCanthus},
            {"rotation", ReferencePlane::kCentreOfRotation},
        };
        const auto plane = planes.find(name);
        if (plane == planes.end()) {
          throw CLI::ValidationError(
              "--plane", '"' + name + "\" is not one of corneal, spectacle, canthus, rotation");
        }
        chosen = plane->second;
      },
      std::string(help) +
          ": corneal (default), spectacle, canthus (lateral), rotation (centre of)");
}

CLI::Option* AddAgeOption(CLI::App& command, std::optional<double>& age) {
  return command.add_option("--age", age, "of the person, in years")->check(CLI::Range(0.0, 120.0));
}

void AddEstimateOptions(CLI::App& command, EstimateArguments& arguments) {
  AddPlaneOption(command, arguments.plane,
                 "plane that the estimate and the cut-off are counted from");
  CLI::Option* norm =
      command
          .add_option("--norm", arguments.norm, "published limit that the break is held against")
          ->check([](const std::string& id) {
            const auto usable = CheckNorm(id);
            return usable ? std::string() : usable.error().message;
          })
          ->each([&arguments](const std::string&) { arguments.norm_chosen = true; })
          ->capture_default_str();
  AddAgeOption(command, arguments.age_years)
      ->description("of the person, in years; chooses the norm unless --norm or --cut-off-mm does");
  command.add_option_function<std::string>(
      "--target",
      [&arguments](const std::string& name) {
        static const std::map<std::string, TargetType> targets{
            {"letter", TargetType::kAccommodative}, {"light", TargetType::kLight}};
        const auto target = targets.find(name);
        if (target == targets.end()) {
          throw CLI::ValidationError("--target", '"' + name + "\" is not one of letter, light");
        }
        arguments.target = target->second;
      },
      "what was looked at: letter (asks for focusing) or light; default: not stated");
  command
      .add_option("--cut-off-mm", arguments.cut_off_mm,
                  "limit of your own instead, counted from that plane")
      ->check(CLI::Range(1.0, 1000.0))
      ->excludes(norm);
}

void AddPrism(CLI::App& command, const std::string& name, std::optional<PrismDiopters>& value,
              double low, double high, const std::string& help) {
  command
      .add_option_function<double>(
          name, [&value](const double& given) { value = PrismDiopters::Of(given); },
          help + ", in prism dioptres")
      ->check(CLI::Range(low, high));
}

void AddContextOptions(CLI::App& command, ContextValues& values) {
  AddAgeOption(command, values.age_years);
  AddPrism(command, "--near-phoria", values.near_phoria, -60, 60, "exo positive, eso negative");
  AddPrism(command, "--far-phoria", values.far_phoria, -60, 60, "exo positive, eso negative");
  AddPrism(command, "--base-out-blur", values.base_out_blur, 0, 80, "reserve at near");
  AddPrism(command, "--base-out-break", values.base_out_break, 0, 80, "reserve at near");
  AddPrism(command, "--base-in-blur", values.base_in_blur, 0, 80, "reserve at near");
  AddPrism(command, "--base-in-break", values.base_in_break, 0, 80, "reserve at near");
  command.add_option("--symptoms", values.symptom_score, "symptom survey total (CISS), 0 to 60")
      ->check(CLI::Range(0, 60));
}

void AddKeysFolder(CLI::App& command, std::optional<std::string>& folder) {
  command.add_option("--keys", folder, "folder of the keys; default: in the user's configuration");
}

void AddExchangeCommands(CLI::App& app, KeysArguments& keys, SealArguments& seal,
                         UnsealArguments& unseal, std::function<Result<void>()>& work) {
  CLI::App* keys_command = app.add_subcommand("keys", "Own keys, and the cards of others");
  keys_command->require_subcommand(1);
  const auto add = [&](const char* name, const char* help,
                       Result<void> (*run)(const KeysArguments&)) {
    CLI::App* command = keys_command->add_subcommand(name, help);
    AddKeysFolder(*command, keys.folder);
    command->callback([&keys, &work, run] { work = [&keys, run] { return run(keys); }; });
    return command;
  };
  CLI::App* new_command = add("new", "Makes own keys and prints the card for others", RunKeysNew);
  new_command->add_option("--name", keys.name, "what others see as the sender")->required();
  CLI::App* show_command =
      add("show", "Prints the own card and its fingerprint to read out", RunKeysShow);
  for (CLI::App* command : {new_command, show_command}) {
    command->add_option("--qr", keys.qr, "a picture of the card's QR code into this file (PNG)");
  }
  CLI::App* add_command = add("add", "Remembers the card of another", RunKeysAdd);
  add_command->add_option("name", keys.name, "what to call them")->required();
  add_command
      ->add_option("card", keys.card,
                   "their card, or @FILE with it as text or as a picture of its QR code")
      ->required();
  add("remove", "Forgets the card of another", RunKeysRemove)
      ->add_option("name", keys.name, "what they are called")
      ->required();
  add("list", "Prints the cards that are known", RunKeysList);

  CLI::App* seal_command =
      app.add_subcommand("seal", "One file of sessions that only its recipient can open");
  AddKeysFolder(*seal_command, seal.folder);
  seal_command->add_option("files", seal.files, "SESSION.json files, or an EXERCISE-PLAN.json")
      ->required();
  CLI::Option* list = seal_command->add_flag("--list", seal.list_only,
                                             "say what would be inside, and make nothing");
  seal_command->add_option("--to", seal.to, "a name of nearpoint keys list, or a card");
  seal_command->add_option("--out", seal.out, "the sealed file");
  seal_command->callback([&seal, &work, list] {
    if (list->count() == 0 && (seal.to.empty() || seal.out.empty())) {
      throw CLI::RequiredError("--to and --out, or --list");
    }
    work = [&seal] { return RunSeal(seal); };
  });

  CLI::App* unseal_command =
      app.add_subcommand("unseal", "Opens a sealed file: who sent it, and what is inside");
  AddKeysFolder(*unseal_command, unseal.folder);
  unseal_command->add_option("file", unseal.file, "the sealed file")->required();
  unseal_command->add_option("--out", unseal.out, "folder for what is inside");
  unseal_command->add_flag("--accept-unknown", unseal.accept_unknown,
                           "write it although the sender's card is not known");
  unseal_command->callback([&unseal, &work] { work = [&unseal] { return RunUnseal(unseal); }; });
}

void AddExportCommands(CLI::App& app, ExportFhirArguments& fhir, ExportCsvArguments& csv,
                       std::function<Result<void>()>& work) {
  CLI::App* fhir_command =
      app.add_subcommand("export-fhir", "A session as an HL7 FHIR R4 bundle, as JSON");
  CLI::Option* file = fhir_command->add_option("file", fhir.file, "SESSION.json");
  CLI::Option* subject = fhir_command->add_option(
      "--subject", fhir.subject, "whose session: a pseudonym or a record number, never a name");
  fhir_command->add_option("--subject-system", fhir.subject_system,
                           "URI of the system that gave the record number");
  fhir_command->add_option("--installation", fhir.installation,
                           "what measured, in a word of yours: all its sessions are of one Device");
  fhir_command->add_option("--out", fhir.out, "file for the bundle; default: standard output");
  fhir_command->add_flag("--reviewed", fhir.reviewed,
                         "a clinician has looked at it: final instead of preliminary");
  fhir_command->add_flag("--transaction", fhir.transaction,
                         "with the requests a server needs to store it, once however often sent");
  CLI::Option* codes = fhir_command->add_flag("--code-system", fhir.code_system,
                                              "the definitions of the codes instead of a session");
  fhir_command->callback([&fhir, &work, file, subject, codes] {
    if (codes->count() == 0 && (file->count() == 0 || subject->count() == 0)) {
      throw CLI::RequiredError("SESSION.json and --subject, or --code-system");
    }
    work = [&fhir] { return RunExportFhir(fhir); };
  });

  CLI::App* csv_command = app.add_subcommand(
      "export-csv", "Sessions of one person for research: tables with a data dictionary");
  csv_command->add_option("files", csv.files, "SESSION.json files of one person")->required();
  csv_command->add_option("--pseudonym", csv.pseudonym, "what the person is called in the tables")
      ->required();
  csv_command->add_option("--out", csv.out, "folder for sessions.csv, trials.csv, dictionary.csv")
      ->required();
  csv_command->callback([&csv, &work] { work = [&csv] { return RunExportCsv(csv); }; });
}

void AddReportCommand(CLI::App& app, ReportArguments& report, std::function<Result<void>()>& work) {
  CLI::App* command = app.add_subcommand("report", "One page about a session, as a PDF");
  command->add_option("file", report.file, "SESSION.json")->required();
  command->add_option("--out", report.out, "the PDF")->required();
  command->add_option("--for", report.reader, "who reads it: record, parent or school")
      ->check(CLI::IsMember({"record", "parent", "school"}))
      ->capture_default_str();
  command->add_option("--paper", report.paper, "a4 or letter")
      ->check(CLI::IsMember({"a4", "letter"}))
      ->capture_default_str();
  command->add_option("--person", report.person, "name on the page; default: a line to write on");
  command->add_flag("--consent", report.consent,
                    "with --for school: the person or the parents have agreed to it");
  command->callback([&report, &work] { work = [&report] { return RunReport(report); }; });
}

void AddReviewCommand(CLI::App& app, ReviewArguments& review, std::function<Result<void>()>& work) {
  CLI::App* command = app.add_subcommand(
      "review",
      "Accepts a session, sets trials aside, annotates; without an act shows where it stands");
  command->add_option("file", review.file, "SESSION.json; it is not changed")->required();
  command->add_option("--log", review.log, "what was done so far: REVIEW.jsonl")->required();
  CLI::Option* by = command->add_option("--by", review.by, "who reviews");
  CLI::Option_group* acts = command->add_option_group("act");
  acts->add_option("--set-aside", review.set_aside, "number of a trial that shall not count");
  acts->add_option("--count", review.count, "number of a trial that shall count again");
  acts->add_flag("--accept", review.accept, "the session can be used as it stands");
  acts->add_option("--note", review.note, "words about the session");
  acts->require_option(0, 1);
  command->add_option("--why", review.why, "the reason, in words");
  AddEstimateOptions(*command, review.estimate);
  command->callback([&review, &work, by, acts] {
    const bool acting = acts->count_all() > 0;
    if (acting && by->count() == 0) throw CLI::RequiredError("--by");
    work = [&review] {
      return ChooseNorm(review.estimate).and_then([&review] { return RunReview(review); });
    };
  });
}

int Run(int argc, char** argv) {
  CLI::App app{
      "Measures the near point of convergence with a webcam. A screening measurement, not a "
      "diagnosis.",
      "nearpoint"};
  app.require_subcommand(0, 1);
  app.set_version_flag("--version", NEARPOINT_VERSION);
  std::function<Result<void>()> work;

  WindowArguments window;
  app.footer("Without a subcommand the window opens.");
  app.add_option("--data", window.data,
                 "window: folder of what is remembered; default: your own data folder");
  app.add_flag("--practice", window.practice,
               "window: begin with a simulated person in place of the camera");
  app.add_flag("--event", window.event, "window: begin at the school event");
  app.add_flag("--clinic", window.clinic,
               "window: begin with the pages for clinicians: receive, review, prescribe");

  TrackArguments track;
  CLI::App* track_command =
      app.add_subcommand("track", "Distance and eye rotation, one line for each frame");
  track_command->add_option("--source", track.source, kSourceHelp)->required();
  track_command->add_option("--profile", track.profile, "camera, face and target: PROFILE.json")
      ->required();
  track_command->add_option("--out", track.out, "file for the lines; default: standard output");
  track_command->add_option("--person", track.person, "whom the profile must be of");
  track_command->callback([&] { work = [&] { return RunTrack(track); }; });

  MeasureArguments measure;
  CLI::App* measure_command = app.add_subcommand("measure", "Trials and estimate of a recording");
  measure_command
      ->add_option("--source", measure.source, "video file, or folder of images with frames.jsonl")
      ->required();
  measure_command->add_option("--profile", measure.profile, "camera, face and target: PROFILE.json")
      ->required();
  measure_command->add_option("--events", measure.events, "what the person reported: EVENTS.jsonl")
      ->required();
  measure_command->add_option("--out", measure.out, "file for the result: SESSION.json")
      ->required();
  measure_command->add_option("--person", measure.person, "whom the profile must be of");
  measure_command
      ->add_option("--started-at", measure.started_at,
                   "when the recording was made, like 2026-03-02T07:45:00+01:00, for progress and "
                   "compare")
      ->check([](const std::string& text) {
        const auto moment = ParseMoment(text);
        return moment ? std::string() : "expected " + moment.error().message;
      });
  AddEstimateOptions(*measure_command, measure.estimate);
  measure_command->callback([&] {
    work = [&] {
      return ChooseNorm(measure.estimate).and_then([&] { return RunMeasure(measure); });
    };
  });

  EstimateCommandArguments estimate;
  CLI::App* estimate_command =
      app.add_subcommand("estimate", "Estimate from known trials; prints the estimate as JSON");
  estimate_command
      ->add_option(
          "files", estimate.files,
          "SESSION.json files, or CSV files with the header break_mm,recovery_mm,censored, "
          "whose values are counted from --plane")
      ->required();
  AddEstimateOptions(*estimate_command, estimate.estimate);
  estimate_command
      ->add_option("--least-trials", estimate.plan.least,
                   "planned stopping: trials that count before an answer is final")
      ->check(CLI::Range(1, 100))
      ->capture_default_str();
  estimate_command
      ->add_option("--most-trials", estimate.plan.most, "planned stopping: trials at most")
      ->check(CLI::Range(1, 100))
      ->capture_default_str();
  estimate_command->callback([&] {
    work = [&] {
      return ChooseNorm(estimate.estimate).and_then([&] { return RunEstimate(estimate); });
    };
  });

  CompareArguments compare;
  CLI::App* compare_command = app.add_subcommand(
      "compare", "Whether the near point changed between two sessions; prints JSON");
  compare_command->add_option("earlier", compare.earlier, "SESSION.json or CSV")->required();
  compare_command->add_option("later", compare.later, "SESSION.json or CSV")->required();
  compare_command->add_option(
      "--repeats", compare.repeats,
      "sessions of this person between which nothing was treated: their own day-to-day spread");
  AddPlaneOption(*compare_command, compare.plane, "plane that the values are counted from");
  compare_command->callback([&] { work = [&] { return RunCompare(compare); }; });

  ProgressArguments progress;
  CLI::App* progress_command = app.add_subcommand(
      "progress", "The course of the near point over weeks, with its band; prints JSON");
  progress_command
      ->add_option("files", progress.files,
                   "SESSION.json files with \"started_at\", or CSV files with the header "
                   "measured_at,break_mm,recovery_mm,censored")
      ->required();
  AddEstimateOptions(*progress_command, progress.estimate);
  progress_command->callback([&] {
    work = [&] {
      return ChooseNorm(progress.estimate).and_then([&] { return RunProgress(progress); });
    };
  });

  CriteriaArguments criteria;
  CLI::App* criteria_command = app.add_subcommand(
      "criteria", "Sheard's rule and published multi-sign criteria: met, not met, not enough data");
  criteria_command->add_option("files", criteria.files, "SESSION.json or CSV of the near point");
  criteria_command->add_option("--context", criteria.context,
                               "findings of the office: CONTEXT.json; the options below go first");
  AddContextOptions(*criteria_command, criteria.values);
  AddPlaneOption(*criteria_command, criteria.plane, "plane that the values are counted from");
  criteria_command->callback([&] { work = [&] { return RunCriteria(criteria); }; });

  KeysArguments keys;
  SealArguments seal;
  UnsealArguments unseal;
  AddExchangeCommands(app, keys, seal, unseal, work);

  ExportFhirArguments fhir;
  ExportCsvArguments csv;
  ReportArguments report;
  AddExportCommands(app, fhir, csv, work);
  AddReportCommand(app, report, work);
  ReviewArguments review;
  AddReviewCommand(app, review, work);

  ExerciseSheetArguments sheet;
  CLI::App* sheet_command = app.add_subcommand(
      "exercise-sheet", "The printed exercise at true scale for one person, as a PDF");
  CLI::Option* sheet_profile =
      sheet_command->add_option("--profile", sheet.profile, "pupil distance of that PROFILE.json");
  sheet_command->add_option("--pd-mm", sheet.pupils_mm, "pupil distance for far instead")
      ->check(CLI::Range(35.0, 85.0))
      ->excludes(sheet_profile);
  sheet_command->add_option("--pd-sd-mm", sheet.pupils_sd_mm, "one standard deviation of it")
      ->check(CLI::Range(0.0, 10.0))
      ->capture_default_str();
  sheet_command->add_option("--sheet-mm", sheet.sheet_mm, "from the front of the eyes to the sheet")
      ->check(CLI::Range(200.0, 1000.0))
      ->capture_default_str();
  CLI::Option* sheet_plan =
      sheet_command->add_option("--plan", sheet.plan, "distances of that plan: EXERCISE-PLAN.json");
  CLI::Option* sheet_levels =
      sheet_command
          ->add_option("--levels-mm", sheet.levels_mm,
                       "distances of the fingertip from the front of the eyes, 1 to 5")
          ->delimiter(',')
          ->excludes(sheet_plan);
  sheet_command->add_option("--pairs", sheet.pairs, "number of pairs in even steps otherwise")
      ->check(CLI::Range(1, 5))
      ->excludes(sheet_plan)
      ->excludes(sheet_levels)
      ->capture_default_str();
  sheet_command->add_flag("--letter", sheet.letter, "US Letter paper instead of A4");
  sheet_command->add_option("--out", sheet.out, "file for the PDF")->required();
  sheet_command->callback([&] { work = [&] { return RunExerciseSheet(sheet); }; });

  DemoArguments demo;
  CLI::App* demo_command = app.add_subcommand(
      "demo", "The whole job on a simulated patient, with the truth beside the answer");
  demo_command->add_option("--seed", demo.seed, "another patient for another number")
      ->capture_default_str();
  demo_command->add_option("--trials", demo.trials, "number of trials")
      ->check(CLI::Range(1, 20))
      ->capture_default_str();
  demo_command->add_option("--out", demo.out, "folder for the files")->capture_default_str();
  AddEstimateOptions(*demo_command, demo.estimate);
  demo_command->callback([&] {
    work = [&] { return ChooseNorm(demo.estimate).and_then([&] { return RunDemo(demo); }); };
  });

  CalibrateOptions calibrate;
  CLI::App* calibrate_command = AddCalibrate(app, NEARPOINT_VERSION, calibrate, work);
  CalibrateFaceOptions calibrate_face;
  AddCalibrateFace(*calibrate_command, NEARPOINT_VERSION, calibrate_face, work);

  const auto event = AddEventCommands(app, work);

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    const bool help = error.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success);
    app.exit(error);  // help goes to standard output, complaints to standard error
    return help ? kDone : kWrongUsage;
  }
  if (!work)
    work = [&] { return RunWindow(argc, argv, window); };
  else
    HandleSignals();
  const auto done = work();
  if (done) return kDone;
  Say(done.error().message);
  return kFailed;
}

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  try {
    return nearpoint::Run(argc, argv);
  } catch (const std::exception& error) {
    // Nothing of ours throws; a library that does (out of memory) must not leave without a word.
    nearpoint::Say(std::string("The work had to stop: ") + error.what() + ".");
    return 1;
  }
}
