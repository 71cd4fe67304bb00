#include "app/cli/exercise_sheet_command.h"

#include "app/cli/console.h"
#include "app/records/atomic_file.h"
#include "app/records/exercise_plan_json.h"
#include "calibration/population.h"
#include "calibration/profile_json.h"

namespace nearpoint {
namespace {

// How well a sheet is held at its distance by hand: one standard deviation, common sense, no
// source.
constexpr double kHeldShare = 0.05;

}  // namespace

Result<GradedSheetOptions> SheetOptionsOf(const ExerciseSheetArguments& arguments) {
  GradedSheetOptions options;
  options.paper = arguments.letter ? PaperSize::kLetter : PaperSize::kA4;
  options.pairs = arguments.pairs;
  options.sheet = {Length::Millimeters(arguments.sheet_mm),
                   Length::Millimeters(kHeldShare * arguments.sheet_mm)};
  if (arguments.pupils_mm) {
    options.pupils = {Length::Millimeters(*arguments.pupils_mm),
                      Length::Millimeters(arguments.pupils_sd_mm)};
  } else if (arguments.profile) {
    const auto profile = ReadProfile(*arguments.profile);
    if (!profile) return tl::unexpected(profile.error());
    if (!profile->face.distance_pd) {
      return Fail(ErrorCode::kNotFound,
                  *arguments.profile +
                      ": \"face.distance_pd_mm\" is null; expected this person's pupil distance, "
                      "or --pd-mm.");
    }
    options.pupils = *profile->face.distance_pd;
  } else {
    options.pupils = *PopulationFace().distance_pd;
    Say("No pupil distance was given: the sheet is made for the mean of adults, and its distances "
        "are as uncertain as it says.");
  }
  if (arguments.plan) {
    const auto plan = ReadExercisePlan(*arguments.plan);
    if (!plan) return tl::unexpected(plan.error());
    options.distances = plan->levels;
    options.repetitions = plan->repetitions;
    options.hold_s = plan->hold_s;
    options.set_by = plan->set_by;
  }
  for (const double mm : arguments.levels_mm) options.distances.push_back(Length::Millimeters(mm));
  return options;
}

Result<void> RunExerciseSheet(const ExerciseSheetArguments& arguments) {
  const auto options = SheetOptionsOf(arguments);
  if (!options) return tl::unexpected(options.error());
  const auto layout = LayOutGradedSheet(*options);
  if (!layout) return tl::unexpected(layout.error());
  for (const std::string& note : layout->notes) Say(note);
  const auto pdf = GradedSheetPdf(*options);
  if (!pdf) return tl::unexpected(pdf.error());
  return WriteFileAtomically(arguments.out, *pdf);
}

}  // namespace nearpoint
