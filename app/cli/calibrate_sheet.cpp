#include "app/cli/calibrate_sheet.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <nlohmann/json.hpp>
#include <vector>

#include "app/cli/calibration_file.h"
#include "app/cli/console.h"
#include "app/print/card_sheet.h"
#include "app/records/atomic_file.h"
#include "app/records/json_number.h"
#include "calibration/print_check.h"
#include "calibration/profile_json.h"
#include "vision/camera/open_source.h"
#include "vision/card/find_pattern.h"
#include "vision/card/find_plain_card.h"

namespace nearpoint {
namespace {

// The sheet lies before the camera for as long as its source lasts; these many good pictures do.
constexpr std::size_t kPictures = 10;

double Median(std::vector<double> v) {
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

Result<PrintScale> MeasureFromSource(const std::string& spec, const Profile& profile,
                                     const std::string& file) {
  auto source = OpenSource(spec, ImageSize{profile.camera.width, profile.camera.height});
  if (!source) return tl::unexpected(source.error());
  const SourceInfo info = (*source)->info();
  if (auto size = CheckPictures(profile, file, info); !size) {
    return tl::unexpected(size.error());
  }
  std::vector<double> widths, heights;
  PatternOptions options;
  options.least_markers = 6;
  double sd = 0;
  std::string why = "no picture";
  constexpr int kLongest = 900;  // half a minute of a camera
  for (int i = 0; i < kLongest && widths.size() < kPictures && !StopRequested(); ++i) {
    auto frame = (*source)->Next();
    if (!frame) return tl::unexpected(frame.error());
    if (!*frame) break;
    const auto pattern = FindPattern((*frame)->bgr(), options);
    if (!pattern) {
      why = ToText(pattern.error());
      continue;
    }
    const auto card = FindPlainCard((*frame)->bgr(), BesidePattern(pattern->edges));
    if (!card) {
      why = "beside the pattern, " + std::string(ToText(card.error()));
      continue;
    }
    const auto scale = MeasurePrint(pattern->edges, card->edges, profile.camera);
    if (!scale) {
      why = scale.error().message;
      why.pop_back();
      continue;
    }
    widths.push_back(scale->width);
    heights.push_back(scale->height);
    sd = std::max(sd, scale->sd);
  }
  if (widths.empty()) {
    return Fail(ErrorCode::kInsufficient, spec + ": the print cannot be measured: " + why + ".");
  }
  return PrintScale{Median(widths), Median(heights), sd};
}

// Kept in the profile: what is measured with the card is then put right by it.
Result<void> KeepPrint(const CalibrateSheetArguments& arguments, const PrintScale& scale) {
  auto profile = ReadProfileToExtend(*arguments.profile);
  if (!profile) return tl::unexpected(profile.error());
  CalibrateArguments common;
  common.software = arguments.software;
  profile->print = scale;
  char percent[16];
  std::snprintf(percent, sizeof percent, "%.1f %%", 100 * scale.width);
  profile->made.print = OriginNow(
      common, (arguments.ruler_mm ? "ruler, " : "beside a real card, ") + std::string(percent));
  return WriteProfile(*profile, *arguments.profile);
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
  if (auto true_size = CheckPrint(*scale); !true_size) return true_size;
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
