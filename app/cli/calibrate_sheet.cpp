#include "app/cli/calibrate_sheet.h"

#include <nlohmann/json.hpp>
#include <string>

#include "app/cli/console.h"
#include "app/print/card_sheet.h"
#include "app/profile/profile_file.h"
#include "app/records/atomic_file.h"
#include "app/records/json_number.h"
#include "calibration/print_check.h"
#include "calibration/print_views.h"
#include "calibration/profile_json.h"
#include "vision/camera/open_source.h"
#include "vision/card/see_print.h"

namespace nearpoint {
namespace {

Result<PrintScale> MeasureFromSource(const std::string& spec, const Profile& profile,
                                     const std::string& file) {
  auto source = OpenSource(spec, ImageSize{profile.camera.width, profile.camera.height});
  if (!source) return tl::unexpected(source.error());
  const SourceInfo info = (*source)->info();
  if (auto size = CheckPictures(profile, file, info); !size) {
    return tl::unexpected(size.error());
  }
  PrintViews views;
  std::string why = "no picture";
  constexpr int kLongest = 900;  // half a minute of a camera
  for (int i = 0; i < kLongest && !views.Enough() && !StopRequested(); ++i) {
    auto frame = (*source)->Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) break;
    const PrintSeen seen = SeePrint((*frame)->bgr(), profile.camera);
    if (seen.scale) {
      views.Add(*seen.scale);
    } else {
      why = seen.why;
    }
  }
  if (const auto scale = views.Measured()) return *scale;
  return Fail(ErrorCode::kInsufficient, spec + ": the print cannot be measured: " + why + ".");
}

// Kept in the profile: what is measured with the card is then put right by it.
Result<void> KeepPrint(const CalibrateSheetArguments& arguments, const PrintScale& scale) {
  auto profile = ReadProfileToExtend(*arguments.profile);
  if (!profile) return tl::unexpected(profile.error());
  CalibrateArguments common;
  common.software = arguments.software;
  profile->print = scale;
  profile->made.print = OriginNow(
      common, PrintMethod(scale, arguments.ruler_mm ? PrintMeasure::kRuler : PrintMeasure::kCard));
  return WriteProfile(*profile, *arguments.profile);
}

// A print that is refused now is the one at hand, whatever was measured before.
void ForgetPrint(const CalibrateSheetArguments& arguments) {
  auto profile = ReadProfile(*arguments.profile);
  if (!profile || !profile->made.print) return;
  profile->print.reset();
  profile->made.print.reset();
  if (auto written = WriteProfile(*profile, *arguments.profile); !written) {
    Say(written.error().message);
    return;
  }
  Say("The print that was measured before no longer counts.");
}

}  // namespace

Result<void> RunCalibrateSheet(const CalibrateSheetArguments& arguments) {
  if (arguments.out) {
    const auto pdf = CardSheetPdf(arguments.paper);
    if (!pdf) return tl::unexpected(pdf.error());
    if (auto written = WriteFileAtomically(*arguments.out, *pdf); !written) return written;
    Say("Print " + *arguments.out + " at 100 %, not fitted to the page.");
  }
  if (!arguments.check && !arguments.ruler_mm) return {};
  Result<PrintScale> scale = PrintScale{};
  if (arguments.ruler_mm) {
    scale = PrintScaleFromRuler(*arguments.ruler_mm);
  } else {
    const auto profile = ReadProfile(*arguments.profile);
    if (!profile) return tl::unexpected(profile.error());
    scale = MeasureFromSource(*arguments.check, *profile, *arguments.profile);
  }
  if (!scale) return tl::unexpected(scale.error());
  if (auto true_size = CheckPrint(*scale); !true_size) {
    if (arguments.profile) ForgetPrint(arguments);
    return true_size;
  }
  if (arguments.profile) {
    if (auto kept = KeepPrint(arguments, *scale); !kept) return kept;
  }
  nlohmann::ordered_json json;
  json["print_width"] = JsonNumber(scale->width, 4);
  json["print_height"] = JsonNumber(scale->height, 4);
  json["print_rel_sd"] = JsonNumber(scale->sd, 4);
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  return sink->Write(json.dump(2) + "\n");
}

}  // namespace nearpoint
