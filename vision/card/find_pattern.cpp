#include "vision/card/find_pattern.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <opencv2/aruco.hpp>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <utility>

#include "vision/card/card_pattern.h"
#include "vision/card/edge_profile.h"

namespace nearpoint {
namespace {

// As far as the blur of a picture that serves for measuring spreads an edge.
constexpr double kBlurReachPx = 1.8;

using Quad = std::array<Eigen::Vector2d, 4>;

cv::Point2f ToCv(const Eigen::Vector2d& p) {
  return {static_cast<float>(p.x()), static_cast<float>(p.y())};
}

// Corners as OpenCV reads them; an id that appears twice is trusted nowhere.
std::map<int, Quad> ReadMarkers(const cv::Mat& grey) {
  static const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
  auto parameters = cv::aruco::DetectorParameters::create();
  const int side = std::min(grey.cols, grey.rows);
  parameters->adaptiveThreshWinSizeMin = 5;
  parameters->adaptiveThreshWinSizeMax = std::clamp(side / 12, 23, 75);
  parameters->adaptiveThreshWinSizeStep =
      std::max(8, (parameters->adaptiveThreshWinSizeMax - 5) / 3);
  // A marker of 12 px a side still has two pixels a module.
  parameters->minMarkerPerimeterRate = 4 * 11.0 / std::max(grey.cols, grey.rows);
  parameters->perspectiveRemovePixelPerCell = 6;
  // Blur darkens and brightens the rims of modules: only their middles are asked. What is misread
  // in spite of it does not agree with its neighbours (KeepThoseThatAgree).
  parameters->perspectiveRemoveIgnoredMarginPerCell = 0.3;
  parameters->errorCorrectionRate = 1.0;
  std::vector<std::vector<cv::Point2f>> found;
  std::vector<int> ids;
  cv::aruco::detectMarkers(grey, dictionary, found, ids, parameters);
  std::map<int, Quad> markers;
  std::map<int, int> times;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    if (ids[i] < 0 || ids[i] >= kMarkerCount) continue;
    ++times[ids[i]];
    Quad quad;
    for (std::size_t k = 0; k < 4; ++k) quad[k] = {found[i][k].x, found[i][k].y};
    markers[ids[i]] = quad;
  }
  for (const auto& [id, count] : times) {
    if (count > 1) markers.erase(id);
  }
  return markers;
}

double SideOf(const Quad& quad) {
  double sum = 0;
  for (std::size_t k = 0; k < 4; ++k) sum += (quad[(k + 1) % 4] - quad[k]).norm() / 4;
  return sum;
}

// Image from card by least squares on the markers in `use`; false if OpenCV finds none.
bool FitHomography(const std::map<int, Quad>& markers, bool robust,
                   Eigen::Matrix3d& image_from_card) {
  std::vector<cv::Point2f> card, image;
  double side = 0;
  for (const auto& [id, quad] : markers) {
    const auto corners = MarkerCorners(id);
    for (std::size_t k = 0; k < 4; ++k) {
      card.push_back(ToCv(corners[k]));
      image.push_back(ToCv(quad[k]));
    }
    side += SideOf(quad) / static_cast<double>(markers.size());
  }
  // A tenth of a marker holds the bow of a strong lens over the card.
  const cv::Mat h =
      cv::findHomography(card, image, robust ? cv::RANSAC : 0, std::max(2.0, 0.12 * side));
  if (h.empty()) return false;
  for (int r = 0; r < 3; ++r) {
    for (int c = 0; c < 3; ++c) image_from_card(r, c) = h.at<double>(r, c);
  }
  return std::abs(image_from_card.determinant()) > 1e-9;
}

Eigen::Vector2d Map(const Eigen::Matrix3d& h, const Eigen::Vector2d& p) {
  const Eigen::Vector3d q = h * p.homogeneous();
  return q.hnormalized();
}

void KeepThoseThatAgree(const Eigen::Matrix3d& image_from_card, std::map<int, Quad>& markers) {
  std::erase_if(markers, [&](const auto& marker) {
    const auto corners = MarkerCorners(marker.first);
    const double tolerance = std::max(2.5, 0.15 * SideOf(marker.second));
    for (std::size_t k = 0; k < 4; ++k) {
      if ((Map(image_from_card, corners[k]) - marker.second[k]).norm() > tolerance) return true;
    }
    return false;
  });
}

// How well the modules at a marker's place are those of the marker: correlation, -1 to 1; 0 where
// nothing is to be seen.
double LookOfMarker(const cv::Mat& grey, const Eigen::Matrix3d& grey_from_card, int id) {
  const MarkerModules& black = ModulesOf(id);
  const Eigen::Vector2d corner = MarkerCorners(id)[0];
  constexpr int kCount = kMarkerModules * kMarkerModules;
  double sum = 0, squares = 0, dark_sum = 0;
  int dark = 0;
  for (int i = 0; i < kCount; ++i) {
    const int row = i / kMarkerModules, column = i % kMarkerModules;
    const Eigen::Vector2d mm = corner + kModuleMm * Eigen::Vector2d(column + 0.5, row + 0.5);
    const Eigen::Vector2d px = Map(grey_from_card, mm);
    const auto x = static_cast<int>(std::lround(px.x())), y = static_cast<int>(std::lround(px.y()));
    if (x < 1 || y < 1 || x >= grey.cols - 1 || y >= grey.rows - 1) return 0;
    const double light = grey.at<std::uint8_t>(y, x);
    sum += light;
    squares += light * light;
    if (black[static_cast<std::size_t>(i)]) {
      dark_sum += light;
      ++dark;
    }
  }
  const double mean = sum / kCount, share = static_cast<double>(dark) / kCount;
  const double spread = std::sqrt(std::max(0.0, squares / kCount - mean * mean));
  if (spread < 8) return 0;
  const double covariance = share * mean - dark_sum / kCount;
  return covariance / (spread * std::sqrt(share * (1 - share)));
}

// Markers that were not read, where the others say they must be, if they look like it.
void AddByLook(const cv::Mat& grey, const Eigen::Vector2d& origin,
               const Eigen::Matrix3d& image_from_card, std::map<int, Quad>& markers) {
  constexpr double kAlike = 0.8;
  constexpr std::size_t kEnoughToTell = 3;
  if (markers.size() < kEnoughToTell) return;
  Eigen::Matrix3d shift = Eigen::Matrix3d::Identity();
  shift.topRightCorner<2, 1>() = -origin;
  const Eigen::Matrix3d grey_from_card = shift * image_from_card;
  for (int id = 0; id < kMarkerCount; ++id) {
    if (markers.contains(id) || LookOfMarker(grey, grey_from_card, id) < kAlike) continue;
    Quad quad = MarkerCorners(id);
    for (Eigen::Vector2d& corner : quad) corner = Map(image_from_card, corner);
    markers[id] = quad;
  }
}

// Light at the middle of the marker's rim and just outside it.
double WhiteBeside(const cv::Mat& linear, const Eigen::Matrix3d& image_from_card, int id,
                   const Eigen::Vector2d& origin) {
  const auto corners = MarkerCorners(id);
  double sum = 0;
  for (std::size_t k = 0; k < 4; ++k) {
    const Eigen::Vector2d middle = (corners[k] + corners[(k + 1) % 4]) / 2;
    const Eigen::Vector2d centre = (corners[0] + corners[2]) / 2;
    const Eigen::Vector2d px =
        Map(image_from_card, middle + (middle - centre).normalized() * 1.6) - origin;
    const int x = std::clamp(static_cast<int>(std::lround(px.x())), 0, linear.cols - 1);
    const int y = std::clamp(static_cast<int>(std::lround(px.y())), 0, linear.rows - 1);
    sum += static_cast<double>(linear.at<float>(y, x)) / 4;
  }
  return sum;
}

struct FineMarker {
  std::array<EdgeFix, 4> edges;  // top, right, bottom, left
  Quad corners;
  std::array<double, 4> sd_px{};
};

// The four edges at sub-pixel precision; nullopt where one of them is hidden.
std::optional<FineMarker> Refine(const cv::Mat& linear, const Quad& quad,
                                 const Eigen::Vector2d& origin) {
  FineMarker fine;
  for (std::size_t k = 0; k < 4; ++k) {
    EdgeSearch search;
    search.start_px = quad[k] - origin;
    search.end_px = quad[(k + 1) % 4] - origin;
    // Towards the inside the rim is one module wide, across the edge, before the next edge comes,
    // whose blur must not count; outside there is more room.
    const Eigen::Vector2d along = (quad[(k + 1) % 4] - quad[k]).normalized();
    const Eigen::Vector2d to_opposite =
        (quad[(k + 2) % 4] + quad[(k + 3) % 4] - quad[k] - quad[(k + 1) % 4]) / 2;
    const double module =
        std::abs(along.x() * to_opposite.y() - along.y() * to_opposite.x()) / kMarkerModules;
    search.reach_px = std::clamp(module - kBlurReachPx, 1.5, 6.0);
    search.least_contrast = 0.03;
    search.brighter = 1;
    search.points = 3;
    auto fix = FixEdge(linear, search);
    if (!fix) return std::nullopt;
    fine.edges[k] = *std::move(fix);
    fine.edges[k].middle_px += origin;
    for (Eigen::Vector2d& p : fine.edges[k].points_px) p += origin;
  }
  for (std::size_t k = 0; k < 4; ++k) {
    const EdgeFix& before = fine.edges[(k + 3) % 4];
    const EdgeFix& after = fine.edges[k];
    const auto corner = Meet(before, after);
    if (!corner || (*corner - quad[k]).norm() > std::max(2.5, 0.2 * SideOf(quad))) {
      return std::nullopt;
    }
    fine.corners[k] = *corner;
    // At its end a line of three points is about 1.3 times as uncertain as one point.
    double squares = 0;
    for (const EdgeFix* edge : {&before, &after}) {
      for (const double sd : edge->sd_px)
        squares += sd * sd / static_cast<double>(edge->sd_px.size());
    }
    fine.sd_px[k] = 1.3 * std::sqrt(squares / 2);
  }
  return fine;
}

void AddCorners(int id, const Quad& quad, const std::array<double, 4>& sd, PatternView& view) {
  const auto corners = MarkerCorners(id);
  view.markers.push_back(id);
  for (std::size_t k = 0; k < 4; ++k) {
    view.corners.push_back({id, static_cast<int>(k), corners[k], quad[k], sd[k]});
  }
}

void AddEdges(int id, const FineMarker& fine, CardView& view) {
  const auto corners = MarkerCorners(id);
  for (std::size_t k = 0; k < 4; ++k) {
    const auto edge = static_cast<int>(view.edges.size());
    view.edges.push_back({corners[k], corners[(k + 1) % 4]});
    for (std::size_t i = 0; i < fine.edges[k].points_px.size(); ++i) {
      view.edge_points.push_back({edge, fine.edges[k].points_px[i], fine.edges[k].sd_px[i]});
    }
  }
}

bool IsMirrored(const cv::Mat& grey) {
  cv::Mat flipped;
  cv::flip(grey, flipped, 1);
  return ReadMarkers(flipped).size() >= 3;
}

}  // namespace

std::string_view ToText(NoPattern reason) {
  switch (reason) {
    case NoPattern::kNothing:
      return "the pattern side of the card is not to be seen";
    case NoPattern::kMirrored:
      return "the picture is mirrored; switch the mirroring of the camera off";
    case NoPattern::kTooFew:
      return "too little of the pattern is to be seen";
    case NoPattern::kContradiction:
      return "the markers do not lie on one flat card";
  }
  return "";
}

Eigen::Vector2d ImageOfCardPoint(const CardView& view, const Eigen::Vector2d& card_mm) {
  return Map(view.image_from_card, card_mm);
}

tl::expected<PatternView, NoPattern> FindPattern(const cv::Mat& picture,
                                                 const PatternOptions& options) {
  cv::Rect region(0, 0, picture.cols, picture.rows);
  if (options.region) region &= *options.region;
  if (region.width < 16 || region.height < 16) return tl::unexpected(NoPattern::kNothing);
  const cv::Mat part = picture(region);
  cv::Mat grey = part;
  if (part.channels() == 3) cv::cvtColor(part, grey, cv::COLOR_BGR2GRAY);
  const Eigen::Vector2d origin(region.x, region.y);

  std::map<int, Quad> markers = ReadMarkers(grey);
  // Mirrored markers can pass for one or two of ours by chance.
  if (markers.size() < 3 && !options.region && IsMirrored(grey)) {
    return tl::unexpected(NoPattern::kMirrored);
  }
  if (markers.empty()) return tl::unexpected(NoPattern::kNothing);
  for (auto& [id, quad] : markers) {
    for (Eigen::Vector2d& corner : quad) corner += origin;
  }
  const auto least = static_cast<std::size_t>(std::max(1, options.least_markers));
  if (markers.size() < least) return tl::unexpected(NoPattern::kTooFew);
  Eigen::Matrix3d image_from_card;
  if (!FitHomography(markers, true, image_from_card)) {
    return tl::unexpected(NoPattern::kContradiction);
  }
  const std::size_t read = markers.size();
  KeepThoseThatAgree(image_from_card, markers);
  if (markers.size() < least || markers.size() * 2 < read) {
    return tl::unexpected(NoPattern::kContradiction);
  }

  if (options.sub_pixel && options.by_look && FitHomography(markers, false, image_from_card)) {
    AddByLook(grey, origin, image_from_card, markers);
  }

  PatternView view;
  std::map<int, Quad> kept;
  // A rim of one marker around those found is enough for the edges.
  cv::Rect_<double> box(markers.begin()->second[0].x(), markers.begin()->second[0].y(), 0, 0);
  for (const auto& [id, quad] : markers) {
    for (const Eigen::Vector2d& c : quad) {
      box |= cv::Rect_<double>(c.x() - 10, c.y() - 10, 20, 20);
    }
  }
  const cv::Rect fine_region =
      cv::Rect(cv::Point(static_cast<int>(box.x), static_cast<int>(box.y)),
               cv::Size(static_cast<int>(box.width) + 2, static_cast<int>(box.height) + 2)) &
      cv::Rect(0, 0, picture.cols, picture.rows);
  const cv::Mat linear = LinearLight(picture(fine_region));
  const Eigen::Vector2d fine_origin(fine_region.x, fine_region.y);
  for (const auto& [id, quad] : markers) {
    if (!options.sub_pixel) {
      AddCorners(id, quad, {0.5, 0.5, 0.5, 0.5}, view);
      kept[id] = quad;
    } else if (const auto fine = Refine(linear, quad, fine_origin)) {
      AddCorners(id, fine->corners, fine->sd_px, view);
      AddEdges(id, *fine, view.edges);
      kept[id] = fine->corners;
    } else {
      continue;
    }
    view.bright += WhiteBeside(linear, image_from_card, id, fine_origin);
  }
  if (kept.size() < least) return tl::unexpected(NoPattern::kTooFew);
  if (!FitHomography(kept, false, view.edges.image_from_card)) {
    return tl::unexpected(NoPattern::kContradiction);
  }
  view.bright /= static_cast<double>(kept.size());
  for (const auto& [id, quad] : kept) {
    view.px_per_mm += SideOf(quad) / kMarkerSizeMm / static_cast<double>(kept.size());
  }
  return view;
}

}  // namespace nearpoint
