#include "vision/card/card_pattern.h"

#include <opencv2/aruco.hpp>

namespace nearpoint {
namespace {

Eigen::Vector2d TopLeft(int id) {
  const int column = id % kMarkerColumns;
  const int row = id / kMarkerColumns;
  return {(column - (kMarkerColumns - 1) / 2.0) * kMarkerPitchMm - kMarkerSizeMm / 2,
          (row - (kMarkerRows - 1) / 2.0) * kMarkerPitchMm - kMarkerSizeMm / 2};
}

std::array<MarkerModules, static_cast<std::size_t>(kMarkerCount)> MakeModules() {
  std::array<MarkerModules, static_cast<std::size_t>(kMarkerCount)> all{};
  const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
  for (int id = 0; id < kMarkerCount; ++id) {
    cv::Mat drawn;  // one pixel a module
    cv::aruco::drawMarker(dictionary, id, kMarkerModules, drawn);
    for (int i = 0; i < kMarkerModules * kMarkerModules; ++i) {
      all[static_cast<std::size_t>(id)][static_cast<std::size_t>(i)] =
          drawn.at<std::uint8_t>(i / kMarkerModules, i % kMarkerModules) == 0;
    }
  }
  return all;
}

std::vector<CardRectangle> MakeDarkRectangles() {
  std::vector<CardRectangle> dark;
  for (int id = 0; id < kMarkerCount; ++id) {
    const MarkerModules& modules = ModulesOf(id);
    const Eigen::Vector2d corner = TopLeft(id);
    const auto black = [&](int row, int column) {
      return column < kMarkerModules &&
             modules[static_cast<std::size_t>(row * kMarkerModules + column)];
    };
    for (int row = 0; row < kMarkerModules; ++row) {
      for (int column = 0; column < kMarkerModules; ++column) {
        if (!black(row, column)) continue;
        const int first = column;
        while (black(row, column)) ++column;
        dark.push_back({corner.x() + first * kModuleMm, corner.y() + row * kModuleMm,
                        corner.x() + column * kModuleMm, corner.y() + (row + 1) * kModuleMm});
      }
    }
  }
  return dark;
}

}  // namespace

std::array<Eigen::Vector2d, 4> MarkerCorners(int id) {
  const Eigen::Vector2d corner = TopLeft(id);
  const double s = kMarkerSizeMm;
  return {corner, corner + Eigen::Vector2d(s, 0), corner + Eigen::Vector2d(s, s),
          corner + Eigen::Vector2d(0, s)};
}

const MarkerModules& ModulesOf(int id) {
  static const auto all = MakeModules();
  return all[static_cast<std::size_t>(id)];
}

std::array<Eigen::Vector2d, 4> CardCorners() {
  const double x = kCardWidthMm / 2, y = kCardHeightMm / 2;
  return {Eigen::Vector2d(-x, -y), {x, -y}, {x, y}, {-x, y}};
}

const std::vector<CardRectangle>& DarkRectangles() {
  static const std::vector<CardRectangle> dark = MakeDarkRectangles();
  return dark;
}

}  // namespace nearpoint
