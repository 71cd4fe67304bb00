// One picture of a flat card, reduced to what an adjustment needs: where its straight edges, or
// its marked points, were seen. Card frame as in vision/card/card_pattern.h.
#pragma once

#include <Eigen/Core>
#include <vector>

namespace nearpoint {

// A straight edge of the card or of a mark on it. Going from start to end, the inside (the mark or
// the card) lies to the right.
struct CardEdge {
  Eigen::Vector2d start_mm;
  Eigen::Vector2d end_mm;
};

// A place in the (distorted) image that lies on an edge; where along the edge is not known.
struct EdgePoint {
  int edge = 0;  // index into CardView::edges
  Eigen::Vector2d image_px;
  double sd_px = 0.1;  // across the edge, > 0
};

// A point of the card whose image is known in both directions: a corner of a chessboard, say.
struct CardPoint {
  Eigen::Vector2d card_mm;
  Eigen::Vector2d image_px;
  double sd_px = 0.1;  // of each coordinate, > 0
};

struct CardView {
  std::vector<CardEdge> edges;
  std::vector<EdgePoint> edge_points;
  std::vector<CardPoint> points;
  // Image in homogeneous pixels from card (x mm, y mm, 1), ignoring distortion: a start.
  Eigen::Matrix3d image_from_card = Eigen::Matrix3d::Identity();
};

}  // namespace nearpoint
