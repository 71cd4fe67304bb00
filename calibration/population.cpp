#include "calibration/population.h"

#include <algorithm>
#include <array>

namespace nearpoint {
namespace {

struct Field {
  std::string_view name;
  std::optional<UncertainLength> FaceScale::*member;
  double mean_mm;
  double sd_mm;
};

constexpr std::array<Field, 6> kFields{{
    // Hong Kong Chinese adults of 18 to 35 years, BioMed Res Int 2013:821428, table 2: men 93.00
    // (5.56), women 88.39
    // (3.74). Mean and spread of an equal mixture of both, computed. One population: others differ.
    {"outer_corners_mm", &FaceScale::outer_corners, 90.7, 5.3},
    // Six groups of a systematic review (PMC9029890, 22 638 adults) have means from 31.2 to 38.5:
    // their mean is 33.8 and
    // their spread 3.0; within a group 2.6 (BioMed Res Int 2013:821428, women). Both spreads
    // together, computed.
    {"inner_corners_mm", &FaceScale::inner_corners, 33.8, 4.0},
    // Ruefer et al., Cornea 2005;24:259-261: white-to-white, 390 people of 10 to 80 years.
    {"iris_mm", &FaceScale::iris, 11.71, 0.42},
    // Adults of the 1988 ANSUR survey in Dodgson, Proc SPIE 2004;5291:36-46 (the mean was read
    // there; these digits are
    // quoted from memory and not checked against the table). Children have less: 51.8 mm and 0.66
    // mm a year of age from
    // 5 to 20 years (Fledelius & Stubgaard 1986).
    {"distance_pd_mm", &FaceScale::distance_pd, 63.36, 3.83},
    // No published depth of the skin corners was found. Head models used for rendering have 8 to 10
    // mm (outer) and about
    // 4 mm (inner) (computed); the spread is a guess made wide.
    {"outer_corner_depth_mm", &FaceScale::outer_corner_depth, 9.0, 3.0},
    {"inner_corner_depth_mm", &FaceScale::inner_corner_depth, 4.0, 2.0},
}};

constexpr Length kSmallestSd = Length::Millimeters(0.01);

}  // namespace

FaceScale PopulationFace() { return WithPopulation(FaceScale{}); }

FaceScale WithPopulation(const FaceScale& face) {
  FaceScale filled = face;
  for (const Field& field : kFields) {
    auto& value = filled.*field.member;
    if (!value) {
      value = UncertainLength{Length::Millimeters(field.mean_mm), Length::Millimeters(field.sd_mm)};
    }
    value->sd = std::max(value->sd, kSmallestSd);
  }
  return filled;
}

std::vector<std::string_view> FilledByPopulation(const FaceScale& face) {
  std::vector<std::string_view> names;
  for (const Field& field : kFields) {
    if (!(face.*field.member).has_value()) names.push_back(field.name);
  }
  return names;
}

}  // namespace nearpoint
