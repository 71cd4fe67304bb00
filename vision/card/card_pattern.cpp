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

std::vector<CardRectangle> MakeDarkRectangles() {
  std::vector<CardRectangle> dark;
  const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
  for (int id = 0; id < kMarkerCount; ++id) {
    cv::Mat modules;  // one pixel a module
    cv::aruco::drawMarker(dictionary, id, kMarkerModules, modules);
    const Eigen::Vector2d corner = TopLeft(id);
    for (int row = 0; row < kMarkerModules; ++row) {
      for (int column = 0; column < kMarkerModules; ++column) {
        if (modules.at<std::uint8_t>(row, column) != 0) continue;
        const int first = column;
        while (column < kMarkerModules && modules.at<std::uint8_t>(row, column) == 0) ++column;
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

std::array<Eigen::Vector2d, 4> CardCorners() {
  const double x = kCardWidthMm / 2, y = kCardHeightMm / 2;
  return {Eigen::Vector2d(-x, -y), {x, -y}, {x, y}, {-x, y}};
}

const std::vector<CardRectangle>& DarkRectangles() {
  static const std::vector<CardRectangle> dark = MakeDarkRectangles();
  return dark;
}

}  // namespace nearpoint
