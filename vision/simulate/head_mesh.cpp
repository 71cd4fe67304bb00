#include "vision/simulate/head_mesh.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "vision/simulate/random.h"

namespace nearpoint::simulate {
namespace {

void PushRange(std::vector<double>& values, double from, double to, double step) {
  const int count = static_cast<int>(std::lround(std::abs(to - from) / step));
  for (int i = 0; i < count; ++i) values.push_back(from + (to - from) * i / count);
}

// Columns are dense where the eyes are.
std::vector<double> Azimuths(const HeadShape& shape) {
  const double width = shape.HalfWidth(0) / shape.scale();
  std::vector<double> half;  // of x in the eye row, then by angle
  PushRange(half, 0, 54, 0.9);
  for (double& x : half) x = std::asin(x / width);
  PushRange(half, std::asin(54 / width), 1.98, 0.036);
  half.push_back(1.98);
  std::vector<double> all;
  for (auto it = half.rbegin(); it != half.rend(); ++it) {
    if (*it > 0) all.push_back(-*it);
  }
  all.insert(all.end(), half.begin(), half.end());
  return all;
}

std::vector<double> Heights(const HeadShape& shape) {
  std::vector<double> y;
  PushRange(y, 127.5, 34, 2.2);
  PushRange(y, 34, -24, 0.9);
  PushRange(y, -24, -126, 1.6);
  PushRange(y, -126, -205, 6);
  y.push_back(-205);
  for (double& value : y) value *= shape.scale();
  return y;
}

// across: 0 where the ear joins the head .. 1 at its rim; down: 0 top .. 1 lobe.
Eigen::Vector3d EarPoint(const HeadShape& shape, double side, double across, double down) {
  const double s = shape.scale();
  const double round = std::pow(std::sin(std::numbers::pi * (0.06 + 0.88 * down)), 0.5);
  const double reach = (27 - 12 * down) * round * across;
  const double rim = std::sin(across * std::numbers::pi) * 4.0;
  const double y = 12 - 62 * down;
  const double x = 69.5 - 6 * down + reach * 0.85;
  const double z = -84 - 9 * across + rim - 6 * (1 - round);
  return {side * x * s, y * s, z * s};
}

// along: -1 right shoulder .. 1 left shoulder; down: 0 at the collar .. 1.
Eigen::Vector3d ShoulderPoint(const HeadShape& shape, double along, double down) {
  const double s = shape.scale();
  const double angle = along * 1.7;
  const double out = std::pow(down, 0.55);
  const double x = (58 + 160 * out) * std::sin(angle);
  const double drop =
      168 + 45 * std::pow(std::abs(std::sin(angle)), 2) * out + 240 * std::pow(down, 2.2);
  const double z = -112 + (58 + 70 * out) * std::cos(angle);
  return {x * s, -drop * s, z * s};
}

}  // namespace

Eigen::Vector2f HeadMesh::SkinXy(float u, float v) const {
  const int col = std::clamp(static_cast<int>(u), head.col0, head.col1 - 2);
  const int row = std::clamp(static_cast<int>(v), head.row0, head.row1 - 2);
  const float a = u - static_cast<float>(col);
  const float b = v - static_cast<float>(row);
  const Eigen::Vector3f& p00 = position_mm[Index(row, col)];
  const Eigen::Vector3f& p01 = position_mm[Index(row, col + 1)];
  const Eigen::Vector3f& p10 = position_mm[Index(row + 1, col)];
  const Eigen::Vector3f& p11 = position_mm[Index(row + 1, col + 1)];
  return ((1 - b) * ((1 - a) * p00 + a * p01) + b * ((1 - a) * p10 + a * p11)).head<2>();
}

HeadMesh MakeHeadMesh(const HeadShape& shape) {
  HeadMesh mesh;
  mesh.azimuth = Azimuths(shape);
  mesh.height = Heights(shape);
  const int head_cols = static_cast<int>(mesh.azimuth.size());
  const int head_rows = static_cast<int>(mesh.height.size());
  constexpr int kEarCols = 12;
  constexpr int kPartRows = 18;
  constexpr int kShoulderCols = 48;
  mesh.cols = std::max(head_cols, 2 * kEarCols + kShoulderCols);
  mesh.rows = head_rows + kPartRows;
  mesh.head = {0, head_rows, 0, head_cols};
  const Chart right_ear{head_rows, mesh.rows, 0, kEarCols};
  const Chart left_ear{head_rows, mesh.rows, kEarCols, 2 * kEarCols};
  const Chart shoulders{head_rows, mesh.rows, 2 * kEarCols, 2 * kEarCols + kShoulderCols};
  mesh.charts = {mesh.head, right_ear, left_ear, shoulders};
  const std::size_t count =
      static_cast<std::size_t>(mesh.cols) * static_cast<std::size_t>(mesh.rows);
  mesh.position_mm.assign(count, Eigen::Vector3f::Zero());
  mesh.normal.assign(count, Eigen::Vector3f::UnitZ());
  mesh.openness.assign(count, 1);

  const auto fill = [&](const Chart& chart, const auto& point) {
    for (int row = chart.row0; row < chart.row1; ++row) {
      for (int col = chart.col0; col < chart.col1; ++col) {
        const double u = static_cast<double>(col - chart.col0) / (chart.col1 - chart.col0 - 1);
        const double v = static_cast<double>(row - chart.row0) / (chart.row1 - chart.row0 - 1);
        mesh.position_mm[mesh.Index(row, col)] = point(row, col, u, v).template cast<float>();
      }
    }
  };
  fill(mesh.head, [&](int row, int col, double, double) {
    return shape.Surface(mesh.azimuth[static_cast<std::size_t>(col)],
                         mesh.height[static_cast<std::size_t>(row)]);
  });
  fill(right_ear, [&](int, int, double u, double v) { return EarPoint(shape, -1, 1 - u, v); });
  fill(left_ear, [&](int, int, double u, double v) { return EarPoint(shape, 1, u, v); });
  fill(shoulders, [&](int, int, double u, double v) { return ShoulderPoint(shape, 2 * u - 1, v); });

  for (const Chart& chart : mesh.charts) {
    for (int row = chart.row0; row < chart.row1; ++row) {
      for (int col = chart.col0; col < chart.col1; ++col) {
        const auto at = [&](int r, int c) {
          return mesh.position_mm[mesh.Index(std::clamp(r, chart.row0, chart.row1 - 1),
                                             std::clamp(c, chart.col0, chart.col1 - 1))];
        };
        const Eigen::Vector3f across = at(row, col + 1) - at(row, col - 1);
        const Eigen::Vector3f up = at(row - 1, col) - at(row + 1, col);
        const Eigen::Vector3f n = across.cross(up);
        const float length = n.norm();
        if (length > 1e-6F) mesh.normal[mesh.Index(row, col)] = n / length;
      }
    }
  }

  // Hollows get less ambient light: where the surface lies behind its smoothed self.
  cv::Mat depth(head_rows, head_cols, CV_32F);
  for (int row = 0; row < head_rows; ++row) {
    for (int col = 0; col < head_cols; ++col) {
      depth.at<float>(row, col) = mesh.position_mm[mesh.Index(row, col)].z();
    }
  }
  cv::Mat fine;
  cv::Mat coarse;
  cv::GaussianBlur(depth, fine, {}, 3, 3, cv::BORDER_REPLICATE);
  cv::GaussianBlur(depth, coarse, {}, 10, 10, cv::BORDER_REPLICATE);
  for (int row = 0; row < head_rows; ++row) {
    for (int col = 0; col < head_cols; ++col) {
      const float z = depth.at<float>(row, col);
      const float hollow = 0.11F * std::max(0.0F, fine.at<float>(row, col) - z) +
                           0.045F * std::max(0.0F, coarse.at<float>(row, col) - z);
      const float ridge = 0.02F * std::max(0.0F, z - coarse.at<float>(row, col));
      mesh.openness[mesh.Index(row, col)] = std::clamp(1 / (1 + hollow) + ridge, 0.3F, 1.12F);
    }
  }
  return mesh;
}

}  // namespace nearpoint::simulate
