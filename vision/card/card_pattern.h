// The calibration card: a card of ID-1 size whose one side carries a grid of markers. Sheet,
// simulated pictures and detector all take its geometry from here.
//
// Card frame: millimetres, origin in the middle of the card's pattern side, x to the right and y
// down as a person reads that side, z into the card (away from the reader). A camera that looks
// squarely at the card sees it without rotation.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

namespace nearpoint {

// ISO/IEC 7810, ID-1 (sizes read in a copy of the standard's table; trade use: bank cards).
inline constexpr double kCardWidthMm = 85.60;
inline constexpr double kCardHeightMm = 53.98;
inline constexpr double kCardThicknessMm = 0.76;     // 0.68 to 0.84
inline constexpr double kCardCornerRadiusMm = 3.18;  // 2.88 to 3.48
// Limits of unused cards by the 2003 edition, from memory: 85.47 to 85.72 by 53.92 to 54.03 mm. One
// standard deviation of a length is taken as half of the wider half-range, as a fraction.
inline constexpr double kCardRelativeSd = 0.0008;

// The markers are those of OpenCV's dictionary DICT_4X4_50 (6 by 6 modules with their black rim)
// with the ids 0 to 14, row by row from the top left. White lies between them, so that each is
// found by itself and a covered one takes none of its neighbours along.
inline constexpr int kMarkerColumns = 5;
inline constexpr int kMarkerRows = 3;
inline constexpr int kMarkerCount = kMarkerColumns * kMarkerRows;
inline constexpr int kMarkerModules = 6;
inline constexpr double kMarkerSizeMm = 13.2;
inline constexpr double kMarkerPitchMm = 16.4;
inline constexpr double kModuleMm = kMarkerSizeMm / kMarkerModules;

// Corners in the card frame: top left, top right, bottom right, bottom left as the marker is read;
// OpenCV reports them in the same order. id: 0 to kMarkerCount - 1.
[[nodiscard]] std::array<Eigen::Vector2d, 4> MarkerCorners(int id);

// The fixation target on the other side: straight behind this point of the card frame.
inline constexpr double kCardTargetX = 0;
inline constexpr double kCardTargetY = -22;

// The modules of a marker, row by row from its top left: true is black.
using MarkerModules = std::array<bool, static_cast<std::size_t>(kMarkerModules* kMarkerModules)>;
[[nodiscard]] const MarkerModules& ModulesOf(int id);

// On the sheet a real card is laid beside the pattern: its middle is this far to the right of the
// pattern's, at the same height.
inline constexpr double kRealCardOffsetMm = 100.4;

// The four corners that the card would have if they were not rounded, in the same order.
[[nodiscard]] std::array<Eigen::Vector2d, 4> CardCorners();

// Axis-parallel rectangle in the card frame.
struct CardRectangle {
  double left = 0, top = 0, right = 0, bottom = 0;
};

// All that is black on the pattern side: runs of black modules of one row. Rectangles touch and do
// not overlap.
[[nodiscard]] const std::vector<CardRectangle>& DarkRectangles();

}  // namespace nearpoint
