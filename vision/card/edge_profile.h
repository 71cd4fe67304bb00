// Where straight edges between dark and bright lie, to a fraction of a pixel.
#pragma once

#include <Eigen/Core>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

namespace nearpoint {

// Linear light, 0 to 1, CV_32F, of an 8-bit grey or BGR picture coded as sRGB. Blur adds up light,
// so only here the middle of a blurred edge lies where the edge is. Part of a picture may be given;
// coordinates are then those of the part.
[[nodiscard]] cv::Mat LinearLight(const cv::Mat& picture);

// A straight edge as it was expected, in the pixels of the picture, and how far to look for it.
struct EdgeSearch {
  Eigen::Vector2d start_px;
  Eigen::Vector2d end_px;
  double reach_px = 4;        // to either side, > 1
  double least_contrast = 0;  // in linear light; weaker edges are not there
  // 1: brighter on the left hand of start to end (x right, y down); -1: on the right hand; 0:
  // either.
  int brighter = 1;
  double leave_out = 0.12;  // of the length, at each end: rounded or blurred corners
  int points = 5;           // parts of the edge that are averaged to one point each
};

struct EdgeFix {
  // Points on the edge, evenly along it, each the average of a stretch, with one deviation across
  // the edge as the scatter within the stretch gives it.
  std::vector<Eigen::Vector2d> points_px;
  std::vector<double> sd_px;
  // Line through them: a point and a unit direction from start to end.
  Eigen::Vector2d middle_px;
  Eigen::Vector2d direction;
  double contrast = 0;  // in linear light
  double found = 0;     // share of the places along the edge where it was seen, 0 to 1
};

// nullopt where fewer than half of the places show the edge, or it is shorter than 6 px.
[[nodiscard]] std::optional<EdgeFix> FixEdge(const cv::Mat& linear, const EdgeSearch& search);

// Where two lines meet; nullopt for nearly parallel ones.
[[nodiscard]] std::optional<Eigen::Vector2d> Meet(const EdgeFix& a, const EdgeFix& b);

}  // namespace nearpoint
