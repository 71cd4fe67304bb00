// The head, ears and shoulders as one grid of vertices. Grid coordinates (column, row) are also the
// texture coordinates.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>
#include <vector>

#include "vision/simulate/head_shape.h"

namespace nearpoint::simulate {

// A rectangle of the grid that is one connected surface.
struct Chart {
  int row0, row1, col0, col1;  // vertices [row0, row1) x [col0, col1)
};

struct HeadMesh {
  static constexpr int kTexelsPerCell = 8;

  int cols = 0, rows = 0;
  Chart head;
  std::vector<Chart> charts;                 // all, head first
  std::vector<Eigen::Vector3f> position_mm;  // head frame, row-major
  std::vector<Eigen::Vector3f> normal;
  std::vector<float> openness;  // ambient light that reaches the vertex, 0..1
  std::vector<double> azimuth;  // of the head chart's columns
  std::vector<double> height;   // y of the head chart's rows before the hair

  [[nodiscard]] std::size_t Index(int row, int col) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(cols) +
           static_cast<std::size_t>(col);
  }
  // Head-frame x and y of the skin at grid coordinates of the head chart.
  [[nodiscard]] Eigen::Vector2f SkinXy(float u, float v) const;
};

[[nodiscard]] HeadMesh MakeHeadMesh(const HeadShape& shape);

}  // namespace nearpoint::simulate
