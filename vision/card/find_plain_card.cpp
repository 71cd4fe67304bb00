#include "vision/card/find_plain_card.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <utility>
#include <vector>

#include "vision/card/card_pattern.h"
#include "vision/card/edge_profile.h"

namespace nearpoint {
namespace {

constexpr int kSearchWidth = 640;  // lines are looked for in a picture of this width

using Quad = std::array<Eigen::Vector2d, 4>;

// One or more segments on one line.
struct Line {
  Eigen::Vector2d middle, direction;  // direction: unit
  std::vector<std::pair<double, double>>
      covered;        // along the direction, from middle; sorted, apart
  double length = 0;  // that is covered
};

void Cover(Line& line, double from, double to) {
  if (from > to) std::swap(from, to);
  line.covered.emplace_back(from, to);
  std::ranges::sort(line.covered);
  std::vector<std::pair<double, double>> joined;
  for (const auto& part : line.covered) {
    if (!joined.empty() && part.first <= joined.back().second) {
      joined.back().second = std::max(joined.back().second, part.second);
    } else {
      joined.push_back(part);
    }
  }
  line.covered = std::move(joined);
  line.length = 0;
  for (const auto& [a, b] : line.covered) line.length += b - a;
}

double CoveredBetween(const Line& line, double from, double to) {
  if (from > to) std::swap(from, to);
  double sum = 0;
  for (const auto& [a, b] : line.covered) {
    sum += std::max(0.0, std::min(b, to) - std::max(a, from));
  }
  return sum;
}

std::vector<Line> FindLines(const cv::Mat& grey) {
  cv::Mat found;
  cv::createLineSegmentDetector(cv::LSD_REFINE_STD)->detect(grey, found);
  struct Segment {
    Eigen::Vector2d a, b;
    double length;
  };
  std::vector<Segment> segments;
  for (int i = 0; i < static_cast<int>(found.total()); ++i) {
    const auto s = found.at<cv::Vec4f>(i);
    const Eigen::Vector2d a(s[0], s[1]), b(s[2], s[3]);
    const double length = (b - a).norm();
    if (length >= 8) segments.push_back({a, b, length});
  }
  std::ranges::sort(segments, std::greater<>{}, &Segment::length);
  std::vector<Line> lines;
  for (const Segment& s : segments) {
    const Eigen::Vector2d direction = (s.b - s.a) / s.length;
    bool joined = false;
    for (Line& line : lines) {
      const double cross = line.direction.x() * direction.y() - line.direction.y() * direction.x();
      if (std::abs(cross) > 0.06) continue;
      const Eigen::Vector2d normal(-line.direction.y(), line.direction.x());
      if (std::abs(normal.dot(s.a - line.middle)) > 2.5 ||
          std::abs(normal.dot(s.b - line.middle)) > 2.5) {
        continue;
      }
      Cover(line, line.direction.dot(s.a - line.middle), line.direction.dot(s.b - line.middle));
      joined = true;
      break;
    }
    if (!joined) {
      Line line{(s.a + s.b) / 2, direction, {}, 0};
      Cover(line, -s.length / 2, s.length / 2);
      lines.push_back(std::move(line));
    }
  }
  std::ranges::sort(lines, std::greater<>{}, &Line::length);
  constexpr std::size_t kMost = 40;
  if (lines.size() > kMost) lines.resize(kMost);
  return lines;
}

std::optional<Eigen::Vector2d> Meet(const Line& a, const Line& b) {
  const double cross = a.direction.x() * b.direction.y() - a.direction.y() * b.direction.x();
  if (std::abs(cross) < 0.3) return std::nullopt;
  const Eigen::Vector2d gap = b.middle - a.middle;
  return a.middle + a.direction * ((gap.x() * b.direction.y() - gap.y() * b.direction.x()) / cross);
}

// Image from card by four corners.
Eigen::Matrix3d Homography(const Quad& card, const Quad& image) {
  Eigen::Matrix<double, 8, 8> a;
  Eigen::Matrix<double, 8, 1> b;
  for (int i = 0; i < 4; ++i) {
    const auto k = static_cast<std::size_t>(i);
    const double x = card[k].x(), y = card[k].y(), u = image[k].x(), v = image[k].y();
    a.row(2 * i) << x, y, 1, 0, 0, 0, -u * x, -u * y;
    a.row(2 * i + 1) << 0, 0, 0, x, y, 1, -v * x, -v * y;
    b(2 * i) = u;
    b(2 * i + 1) = v;
  }
  const Eigen::Matrix<double, 8, 1> h = a.fullPivLu().solve(b);
  Eigen::Matrix3d m;
  m << h(0), h(1), h(2), h(3), h(4), h(5), h(6), h(7), 1;
  return m;
}

// How far the quad is from the picture of an ID-1 card by any lens in the range: relative error of
// the aspect and of the right angle together.
double ShapeError(const Quad& quad, cv::Size size, const PlainCardOptions& options) {
  const Eigen::Matrix3d h = Homography(CardCorners(), quad);
  double least = 1e9;
  for (double f = options.least_focal; f <= options.largest_focal; f *= 1.1) {
    Eigen::Matrix3d from_px = Eigen::Matrix3d::Identity();
    from_px(0, 0) = from_px(1, 1) = 1 / (f * size.width);
    from_px(0, 2) = -size.width / 2.0 * from_px(0, 0);
    from_px(1, 2) = -size.height / 2.0 * from_px(1, 1);
    const Eigen::Matrix3d m = from_px * h;
    const double a = m.col(0).norm(), b = m.col(1).norm();
    if (!(a > 0) || !(b > 0)) continue;
    least = std::min(least, std::hypot(std::log(a / b), m.col(0).dot(m.col(1)) / (a * b)));
  }
  return least;
}

bool Convex(const Quad& q) {
  int left = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    const Eigen::Vector2d a = q[(i + 1) % 4] - q[i], b = q[(i + 2) % 4] - q[(i + 1) % 4];
    left += a.x() * b.y() - a.y() * b.x() > 0 ? 1 : -1;
  }
  return left == 4;  // clockwise with y down: as a person reads the card
}

double Area(const Quad& q) {
  double sum = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    const auto& a = q[i];
    const auto& b = q[(i + 1) % 4];
    sum += a.x() * b.y() - a.y() * b.x();
  }
  return std::abs(sum) / 2;
}

struct Candidate {
  Quad quad;
  double score = 0;
  double weakest = 0;  // share of the worst edge that a line covers
};

// Some turn of the quad lies on the expected corners.
bool AsExpected(const Quad& quad, const Quad& expected, double slack) {
  for (std::size_t turn = 0; turn < 4; ++turn) {
    bool all = true;
    for (std::size_t i = 0; i < 4; ++i) {
      all = all && (quad[(i + turn) % 4] - expected[i]).norm() < slack;
    }
    if (all) return true;
  }
  return false;
}

std::optional<Candidate> Judge(const std::array<const Line*, 4>& sides, cv::Size size,
                               const PlainCardOptions& options) {
  // Sides in turn; corner i is where side i - 1 and side i meet.
  Candidate c;
  for (std::size_t i = 0; i < 4; ++i) {
    const auto corner = Meet(*sides[(i + 3) % 4], *sides[i]);
    if (!corner) return std::nullopt;
    if (corner->x() < -2 || corner->y() < -2 || corner->x() > size.width + 1 ||
        corner->y() > size.height + 1) {
      return std::nullopt;
    }
    c.quad[i] = *corner;
  }
  if (!Convex(c.quad)) std::swap(c.quad[1], c.quad[3]);
  if (!Convex(c.quad)) return std::nullopt;
  if (options.expected_px && !AsExpected(c.quad, *options.expected_px, options.slack_px)) {
    return std::nullopt;
  }
  double perimeter = 0, covered = 0;
  c.weakest = 1;
  for (std::size_t i = 0; i < 4; ++i) {
    const Eigen::Vector2d a = c.quad[i], b = c.quad[(i + 1) % 4];
    const double length = (b - a).norm();
    if (length < 25) return std::nullopt;
    // The line of this side may stand anywhere in `sides` after the swap.
    double best = 0;
    for (const Line* line : sides) {
      const Eigen::Vector2d normal(-line->direction.y(), line->direction.x());
      if (std::abs(normal.dot(a - line->middle)) > 1 ||
          std::abs(normal.dot(b - line->middle)) > 1) {
        continue;
      }
      best = std::max(best, CoveredBetween(*line, line->direction.dot(a - line->middle),
                                           line->direction.dot(b - line->middle)));
    }
    c.weakest = std::min(c.weakest, best / length);
    perimeter += length;
    covered += best;
  }
  if (c.weakest < 0.3 || covered / perimeter < 0.5) return std::nullopt;
  // The long side first.
  Quad turned;
  for (std::size_t i = 0; i < 4; ++i) turned[i] = c.quad[(i + 1) % 4];
  const double straight = ShapeError(c.quad, size, options);
  const double sideways = ShapeError(turned, size, options);
  if (sideways < straight) c.quad = turned;
  const double error = std::min(straight, sideways);
  if (error > options.tolerance) return std::nullopt;
  // A stripe on the card has as good edges as the card; the larger and more card-like one wins.
  c.score =
      covered / perimeter * std::sqrt(Area(c.quad)) * std::exp(-0.5 * std::pow(error / 0.04, 2));
  return c;
}

std::vector<Candidate> FindQuads(const std::vector<Line>& lines, cv::Size size,
                                 const PlainCardOptions& options) {
  // Pairs that could be opposite sides.
  std::vector<std::pair<const Line*, const Line*>> opposite;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    for (std::size_t j = i + 1; j < lines.size(); ++j) {
      const auto& a = lines[i];
      const auto& b = lines[j];
      const double cross = a.direction.x() * b.direction.y() - a.direction.y() * b.direction.x();
      if (std::abs(cross) > 0.5) continue;
      const Eigen::Vector2d normal(-a.direction.y(), a.direction.x());
      if (std::abs(normal.dot(b.middle - a.middle)) < 20) continue;
      opposite.emplace_back(&a, &b);
    }
  }
  std::vector<Candidate> candidates;
  for (std::size_t i = 0; i < opposite.size(); ++i) {
    for (std::size_t j = i + 1; j < opposite.size(); ++j) {
      const auto& [a, c] = opposite[i];
      const auto& [b, d] = opposite[j];
      const double cross =
          a->direction.x() * b->direction.y() - a->direction.y() * b->direction.x();
      if (std::abs(cross) < 0.6 || a == b || a == d || c == b || c == d) continue;
      if (auto found = Judge({a, b, c, d}, size, options)) candidates.push_back(*found);
    }
  }
  std::ranges::sort(candidates, std::greater<>{}, &Candidate::score);
  return candidates;
}

cv::Rect BoxAround(const Quad& quad, double margin) {
  Eigen::Vector2d low = quad[0], high = quad[0];
  for (const auto& corner : quad) {
    low = low.cwiseMin(corner);
    high = high.cwiseMax(corner);
  }
  const auto floor = [](double v) { return static_cast<int>(std::floor(v)); };
  return {cv::Point(floor(low.x() - margin), floor(low.y() - margin)),
          cv::Point(floor(high.x() + margin) + 1, floor(high.y() + margin) + 1)};
}

tl::expected<PlainCardView, NoPlainCard> Refine(const cv::Mat& linear, const Quad& quad,
                                                const Eigen::Vector2d& origin, double slack) {
  PlainCardView view;
  std::array<EdgeFix, 4> fixes;
  for (std::size_t i = 0; i < 4; ++i) {
    EdgeSearch search;
    search.start_px = quad[i] - origin;
    search.end_px = quad[(i + 1) % 4] - origin;
    search.reach_px = slack;
    search.least_contrast = 0.03;
    search.brighter = 0;
    search.leave_out = 0.1;  // the rounding takes 7 % of the short side
    search.points = 16;
    auto fix = FixEdge(linear, search);
    if (!fix) return tl::unexpected(NoPlainCard::kHidden);
    fix->middle_px += origin;
    for (auto& p : fix->points_px) p += origin;
    fixes[i] = *std::move(fix);
    view.found += fixes[i].found / 4;
  }
  const auto corners = CardCorners();
  for (std::size_t i = 0; i < 4; ++i) {
    const auto corner = Meet(fixes[(i + 3) % 4], fixes[i]);
    if (!corner) return tl::unexpected(NoPlainCard::kHidden);
    view.corners_px[i] = *corner;
    view.edges.edges.push_back({corners[i], corners[(i + 1) % 4]});
    for (std::size_t k = 0; k < fixes[i].points_px.size(); ++k) {
      view.edges.edge_points.push_back(
          {static_cast<int>(i), fixes[i].points_px[k], fixes[i].sd_px[k]});
    }
  }
  view.edges.image_from_card = Homography(corners, view.corners_px);
  view.px_per_mm = std::sqrt(Area(view.corners_px) / (kCardWidthMm * kCardHeightMm));
  return view;
}

}  // namespace

std::string_view ToText(NoPlainCard reason) {
  switch (reason) {
    case NoPlainCard::kNothing:
      return "no card of ID-1 shape is to be seen";
    case NoPlainCard::kHidden:
      return "an edge of the card is covered or too faint; hold it by its corners before a plain "
             "background of another brightness";
    case NoPlainCard::kTooSmall:
      return "the card is too small in the picture; bring it nearer";
    case NoPlainCard::kCutOff:
      return "the card reaches over the rim of the picture";
  }
  return "";
}

PlainCardOptions BesidePattern(const CardView& pattern) {
  PlainCardOptions options;
  Quad expected = CardCorners();
  for (auto& corner : expected) {
    const Eigen::Vector3d at =
        pattern.image_from_card * Eigen::Vector3d(corner.x() + kRealCardOffsetMm, corner.y(), 1);
    corner = at.hnormalized();
  }
  options.expected_px = expected;
  // A tenth of the size at the far end, and some millimetres of a card laid by hand.
  options.slack_px = 0.15 * (expected[1] - expected[0]).norm();
  return options;
}

tl::expected<PlainCardView, NoPlainCard> FindPlainCard(const cv::Mat& picture,
                                                       const PlainCardOptions& options) {
  cv::Mat grey = picture;
  if (picture.channels() == 3) cv::cvtColor(picture, grey, cv::COLOR_BGR2GRAY);
  const double scale = std::max(1.0, static_cast<double>(grey.cols) / kSearchWidth);
  cv::Mat small = grey;
  if (scale > 1) {
    cv::resize(grey, small, cv::Size(), 1 / scale, 1 / scale, cv::INTER_AREA);
  }
  PlainCardOptions scaled = options;
  cv::Rect part(0, 0, small.cols, small.rows);
  if (scaled.expected_px) {
    scaled.slack_px /= scale;
    for (auto& corner : *scaled.expected_px) {
      corner = ((corner.array() + 0.5) / scale - 0.5).matrix();
    }
    part &= BoxAround(*scaled.expected_px, scaled.slack_px);
    if (part.width < 30 || part.height < 20) return tl::unexpected(NoPlainCard::kCutOff);
  }
  std::vector<Line> lines = FindLines(small(part));
  for (Line& line : lines) line.middle += Eigen::Vector2d(part.x, part.y);
  const std::vector<Candidate> candidates = FindQuads(lines, small.size(), scaled);
  if (candidates.empty()) return tl::unexpected(NoPlainCard::kNothing);
  NoPlainCard reason = NoPlainCard::kHidden;
  constexpr std::size_t kTried = 4;
  const cv::Mat linear = LinearLight(grey);
  for (std::size_t i = 0; i < std::min(kTried, candidates.size()); ++i) {
    Quad quad = candidates[i].quad;
    for (auto& corner : quad) {
      // Pixel centres of a reduced picture.
      corner = ((corner.array() + 0.5) * scale - 0.5).matrix();
    }
    double shortest = 1e9;
    for (std::size_t k = 0; k < 4; ++k) {
      shortest = std::min(shortest, (quad[(k + 1) % 4] - quad[k]).norm());
    }
    if (shortest < 60) {
      reason = NoPlainCard::kTooSmall;
      continue;
    }
    // Twice: the second look starts from lines that are right to a fraction of a pixel.
    auto view = Refine(linear, quad, Eigen::Vector2d::Zero(), 3 * scale);
    if (view) view = Refine(linear, view->corners_px, Eigen::Vector2d::Zero(), 5);
    if (view) return view;
    reason = view.error();
  }
  return tl::unexpected(reason);
}

}  // namespace nearpoint
