// The program `nearpoint`: subcommands without windows. Exit status 0 done, 1 the work could not be
// done (one sentence on standard error), 2 wrong usage.
#include <CLI/CLI.hpp>
#include <exception>
#include <functional>
#include <map>
#include <string>

#include "app/cli/calibrate_face.h"
#include "app/cli/calibrate_options.h"
#include "app/cli/console.h"
#include "app/cli/demo_command.h"
#include "app/cli/estimate_command.h"
#include "app/cli/measure_command.h"
#include "app/cli/track_command.h"

namespace nearpoint {
namespace {

constexpr int kDone = 0;
constexpr int kFailed = 1;
constexpr int kWrongUsage = 2;

constexpr const char* kSourceHelp =
    "camera number, video file, or folder of images with frames.jsonl";

void AddEstimateOptions(CLI::App& command, EstimateArguments& arguments) {
  command.add_option_function<std::string>(
      "--plane",
      [&arguments](const std::string& name) {
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
        arguments.plane = plane->second;
      },
      "plane that the estimate and the cut-off are counted from: corneal (default), spectacle, "
      "canthus (lateral), rotation (centre of)");
  CLI::Option* norm =
      command
          .add_option("--norm", arguments.norm, "published limit that the break is held against")
          ->check([](const std::string& id) {
            const auto usable = CheckNorm(id);
            return usable ? std::string() : usable.error().message;
          })
          ->capture_default_str();
  command
      .add_option("--cut-off-mm", arguments.cut_off_mm,
                  "limit of your own instead, counted from that plane")
      ->check(CLI::Range(1.0, 1000.0))
      ->excludes(norm);
}

int Run(int argc, char** argv) {
  CLI::App app{
      "Measures the near point of convergence with a webcam. A screening measurement, not a "
      "diagnosis.",
      "nearpoint"};
  app.require_subcommand(1);
  app.set_version_flag("--version", NEARPOINT_VERSION);
  std::function<Result<void>()> work;

  TrackArguments track;
  CLI::App* track_command =
      app.add_subcommand("track", "Distance and eye rotation, one line for each frame");
  track_command->add_option("--source", track.source, kSourceHelp)->required();
  track_command->add_option("--profile", track.profile, "camera, face and target: PROFILE.json")
      ->required();
  track_command->add_option("--out", track.out, "file for the lines; default: standard output");
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
  AddEstimateOptions(*measure_command, measure.estimate);
  measure_command->callback([&] { work = [&] { return RunMeasure(measure); }; });

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
  estimate_command->callback([&] { work = [&] { return RunEstimate(estimate); }; });

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
  demo_command->callback([&] { work = [&] { return RunDemo(demo); }; });

  CalibrateOptions calibrate;
  CLI::App* calibrate_command = AddCalibrate(app, NEARPOINT_VERSION, calibrate, work);
  CalibrateFaceOptions calibrate_face;
  AddCalibrateFace(*calibrate_command, NEARPOINT_VERSION, calibrate_face, work);

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    const bool help = error.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success);
    app.exit(error);  // help goes to standard output, complaints to standard error
    return help ? kDone : kWrongUsage;
  }
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
