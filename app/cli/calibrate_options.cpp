#include "app/cli/calibrate_options.h"

#include <map>
#include <optional>
#include <vector>

namespace nearpoint {
namespace {

void AddCommon(CLI::App& command, CalibrateArguments& arguments) {
  command.add_option("--profile", arguments.profile, "PROFILE.json that is extended")->required();
  command.add_option("--person", arguments.person,
                     "name or number of the person, kept in the profile");
}

CLI::Option* AddPair(CLI::App& command, const std::string& name,
                     std::optional<Eigen::Vector2d>& pair, const std::string& help) {
  return command
      .add_option_function<std::vector<double>>(
          name, [&pair](const std::vector<double>& v) { pair = Eigen::Vector2d(v[0], v[1]); }, help)
      ->expected(2);
}

void AddCamera(CLI::App& calibrate, CalibrateCameraArguments& arguments,
               std::function<Result<void>()>& work) {
  CLI::App* command = calibrate.add_subcommand(
      "camera", "Focal length, centre and distortion from a card shown in several tilts");
  command
      ->add_option("--source", arguments.source,
                   "camera number, video file, or folder of images with frames.jsonl")
      ->required();
  AddCommon(*command, arguments.common);
  command->add_option("--device", arguments.common.device,
                      "name of the camera; default: the name it gives itself");
  static const std::map<std::string, CardKind> cards{{"pattern", CardKind::kPattern},
                                                     {"plain", CardKind::kPlain}};
  command
      ->add_option(
          "--card", arguments.card,
          "pattern: the card of the sheet (default); plain: any bank, health or library card")
      ->transform(CLI::CheckedTransformer(cards))
      ->option_text("pattern|plain");
  command->callback([&] { work = [&] { return RunCalibrateCamera(arguments); }; });
}

void AddScreen(CLI::App& calibrate, CalibrateScreenArguments& arguments,
               std::function<Result<void>()>& work) {
  CLI::App* command = calibrate.add_subcommand(
      "screen", "Where the fixation target is: on the screen or on the strip");
  AddCommon(*command, arguments.common);
  CLI::Option* strip = AddPair(*command, "--strip-mm", arguments.strip_mm,
                               "printed strip: millimetres of its letter below the middle of the "
                               "lens, and to the right of it "
                               "as you see it");
  CLI::Option* outline =
      AddPair(*command, "--outline-px", arguments.outline_px,
              "width and height in screen pixels of the outline that a card just covers");
  CLI::Option* lens =
      AddPair(*command, "--lens-mm", arguments.lens_mm,
              "middle of the lens, millimetres to the right of and below the screen's "
              "top left corner (above it: negative)");
  CLI::Option* target =
      AddPair(*command, "--target-px", arguments.target_px,
              "the target, pixels to the right of and below the screen's top left corner");
  CLI::Option* pixels =
      AddPair(*command, "--screen-px", arguments.screen_px, "pixels of the screen");
  AddPair(*command, "--reported-mm", arguments.reported_mm,
          "millimetres of the screen as the system reports them")
      ->needs(pixels);
  outline->needs(lens)->needs(target)->excludes(strip);
  command->callback([&arguments, &work] {
    if (!arguments.strip_mm && !arguments.outline_px) {
      throw CLI::RequiredError("--strip-mm, or --outline-px with --lens-mm and --target-px,");
    }
    work = [&arguments] { return RunCalibrateScreen(arguments); };
  });
}

void AddLag(CLI::App& calibrate, CalibrateLagArguments& arguments,
            std::function<Result<void>()>& work) {
  CLI::App* command =
      calibrate.add_subcommand("lag", "Response time of the person: ten presses in the terminal");
  AddCommon(*command, arguments.common);
  CLI::Option* times = command->add_option("--times", arguments.times,
                                           "CSV shown_ms,pressed_ms of a task done elsewhere");
  command->add_option("--out-times", arguments.out_times, "CSV to keep the times in")
      ->excludes(times);
  command
      ->add_option("--screen-hz", arguments.refreshes_per_second,
                   "refreshes of the screen a second")
      ->check(CLI::Range(10.0, 1000.0))
      ->capture_default_str();
  CLI::Option* rate =
      command
          ->add_option("--camera-hz", arguments.frames_per_second, "frames of the camera a second")
          ->check(CLI::Range(10.0, 1000.0))
          ->capture_default_str();
  command
      ->add_option("--camera", arguments.camera,
                   "number of the camera, whose own delay and rate are then measured")
      ->check(CLI::NonNegativeNumber)
      ->excludes(rate);
  command->callback([&] { work = [&] { return RunCalibrateLag(arguments); }; });
}

void AddSheet(CLI::App& calibrate, CalibrateSheetArguments& arguments,
              std::function<Result<void>()>& work) {
  CLI::App* command = calibrate.add_subcommand(
      "sheet", "The sheet to print: card, ruler, strip; and whether a print is true");
  command->add_option("--out", arguments.out, "PDF to write");
  static const std::map<std::string, PaperSize> papers{{"a4", PaperSize::kA4},
                                                       {"letter", PaperSize::kLetter}};
  command->add_option("--paper", arguments.paper, "a4 (default) or letter")
      ->transform(CLI::CheckedTransformer(papers, CLI::ignore_case))
      ->option_text("a4|letter");
  CLI::Option* check = command->add_option(
      "--check", arguments.check,
      "source that shows the printed sheet with a real card on its place; needs --profile");
  CLI::Option* profile =
      command->add_option("--profile", arguments.profile, "PROFILE.json of the camera");
  check->needs(profile);
  command
      ->add_option("--ruler-mm", arguments.ruler_mm, "length of the printed 100 mm line by a ruler")
      ->excludes(check);
  command->callback([&arguments, &work] {
    if (!arguments.out && !arguments.check && !arguments.ruler_mm) {
      throw CLI::RequiredError("--out, --check or --ruler-mm");
    }
    work = [&arguments] { return RunCalibrateSheet(arguments); };
  });
}

}  // namespace

CLI::App* AddCalibrate(CLI::App& app, const std::string& software, CalibrateOptions& options,
                       std::function<Result<void>()>& work) {
  CLI::App* calibrate = app.add_subcommand(
      "calibrate", "Camera, face, screen and lag with a card; the sheet to print");
  calibrate->require_subcommand(1);
  options.camera.common.software = software;
  options.screen.common.software = software;
  options.lag.common.software = software;
  options.sheet.software = software;
  AddCamera(*calibrate, options.camera, work);
  AddScreen(*calibrate, options.screen, work);
  AddLag(*calibrate, options.lag, work);
  AddSheet(*calibrate, options.sheet, work);
  return calibrate;
}

}  // namespace nearpoint
