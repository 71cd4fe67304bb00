#include "calibration/camera_guidance.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace nearpoint {
namespace {

constexpr double kUsualFocal = 0.9;  // picture widths
constexpr double kHalfWidthMm = 42.8, kHalfHeightMm = 26.99;
constexpr double kTiltedFromDeg = 18;  // below, a view counts as square
constexpr int kViewsOfEachTilt = 2;

int PartOf(const Eigen::Vector2d& at) {
  const int column = std::clamp(static_cast<int>(at.x() * 3), 0, 2);
  const int row = std::clamp(static_cast<int>(at.y() * 3), 0, 2);
  return 3 * row + column;
}

const char* NameOf(CardTilt tilt) {
  switch (tilt) {
    case CardTilt::kSquare:
      return "Hold the card square to the camera.";
    case CardTilt::kUpperNear:
      return "Tilt the card: its upper edge toward the camera.";
    case CardTilt::kLowerNear:
      return "Tilt the card: its lower edge toward the camera.";
    case CardTilt::kLeftNear:
      return "Turn the card: its edge at your left hand toward the camera.";
    case CardTilt::kRightNear:
      return "Turn the card: its edge at your right hand toward the camera.";
  }
  return "";
}

// Columns of the picture are mirrored: its left is at the person's right.
std::string NameOfPart(int part) {
  switch (part) {
    case 0:
      return "upper right";
    case 2:
      return "upper left";
    case 4:
      return "middle";
    case 6:
      return "lower right";
    case 8:
      return "lower left";
    default:
      return "";
  }
}

}  // namespace

ViewSummary SummariseView(const CardView& view, int width, int height) {
  ViewSummary out;
  const auto at = [&](double x, double y) -> Eigen::Vector2d {
    const Eigen::Vector3d p = view.image_from_card * Eigen::Vector3d(x, y, 1);
    return {(p.x() / p.z() + 0.5) / width, (p.y() / p.z() + 0.5) / height};
  };
  out.middle = at(0, 0);
  out.corners = {at(-kHalfWidthMm, -kHalfHeightMm), at(kHalfWidthMm, -kHalfHeightMm),
                 at(kHalfWidthMm, kHalfHeightMm), at(-kHalfWidthMm, kHalfHeightMm)};
  const Eigen::Vector2d size(width, height);
  double longest = 0;
  for (std::size_t i = 0; i < 4; ++i) {
    const Eigen::Vector2d side =
        (out.corners[(i + 1) % 4] - out.corners[i]).cwiseProduct(size) / width;
    longest = std::max(longest, side.norm());
  }
  out.fill = longest;

  Eigen::Matrix3d k = Eigen::Matrix3d::Identity();
  k(0, 0) = k(1, 1) = kUsualFocal * width;
  k(0, 2) = (width - 1) / 2.0;
  k(1, 2) = (height - 1) / 2.0;
  Eigen::Matrix3d m = k.inverse() * view.image_from_card;
  m *= 2 / (m.col(0).norm() + m.col(1).norm());
  if (m(2, 2) < 0) m = -m;
  const Eigen::Vector3d normal = m.col(0).cross(m.col(1)).normalized();
  const Eigen::Vector3d sight = m.col(2).normalized();
  out.tilt_deg =
      std::acos(std::clamp(std::abs(normal.dot(sight)), 0.0, 1.0)) * 180 / std::numbers::pi;
  if (out.tilt_deg < kTiltedFromDeg) return out;
  // How the distance from the lens changes to the right and downward in the picture: the plane's
  // slope against the line of sight, so that a card at the rim counts by its own tilt.
  const Eigen::Vector3d facing = normal.dot(sight) > 0 ? normal : Eigen::Vector3d(-normal);
  const Eigen::Vector3d slope = facing - sight * facing.dot(sight);
  // The plane recedes against its normal's sideways part.
  if (std::abs(slope.x()) > std::abs(slope.y())) {
    out.tilt = slope.x() > 0 ? CardTilt::kLeftNear : CardTilt::kRightNear;
  } else {
    out.tilt = slope.y() > 0 ? CardTilt::kLowerNear : CardTilt::kUpperNear;
  }
  return out;
}

CameraGuidance GuideCamera(std::span<const ViewSummary> taken) {
  CameraGuidance guide;
  guide.views = static_cast<int>(taken.size());
  std::array<int, kCardTiltCount> count{};
  guide.missing.fill(false);
  for (const int part : {0, 2, 4, 6, 8}) guide.missing[static_cast<std::size_t>(part)] = true;
  for (const ViewSummary& view : taken) {
    ++count[static_cast<std::size_t>(view.tilt)];
    guide.missing[static_cast<std::size_t>(PartOf(view.middle))] = false;
    for (const auto& corner : view.corners) {
      guide.missing[static_cast<std::size_t>(PartOf(corner))] = false;
    }
  }
  for (const CardTilt tilt :
       {CardTilt::kUpperNear, CardTilt::kLeftNear, CardTilt::kLowerNear, CardTilt::kRightNear}) {
    if (count[static_cast<std::size_t>(tilt)] < kViewsOfEachTilt) guide.tilts.push_back(tilt);
  }
  if (count[static_cast<std::size_t>(CardTilt::kSquare)] < 1) {
    guide.tilts.push_back(CardTilt::kSquare);
  }
  // The one with fewest views first, so that turns alternate.
  std::ranges::stable_sort(guide.tilts, {},
                           [&](CardTilt t) { return count[static_cast<std::size_t>(t)]; });
  const auto part = std::ranges::find(guide.missing, true);
  guide.complete =
      guide.tilts.empty() && part == guide.missing.end() && guide.views >= guide.wanted;
  if (guide.complete) {
    guide.next = "Done: enough views.";
  } else if (!guide.tilts.empty()) {
    guide.next = NameOf(guide.tilts.front());
  } else if (part != guide.missing.end()) {
    guide.next = "Move the card to the " +
                 NameOfPart(static_cast<int>(part - guide.missing.begin())) + " of the picture.";
  } else {
    guide.next = "Go on: other tilts and other distances.";
  }
  return guide;
}

ViewUse JudgeView(std::span<const ViewSummary> taken, const ViewSummary& view) {
  if (view.fill < 0.18) return ViewUse::kTooSmall;
  if (view.tilt_deg > 60) return ViewUse::kTooSteep;
  for (const ViewSummary& other : taken) {
    double largest = 0;
    for (std::size_t i = 0; i < 4; ++i) {
      largest = std::max(largest, (other.corners[i] - view.corners[i]).norm());
    }
    const bool same_tilt = other.tilt == view.tilt && std::abs(other.tilt_deg - view.tilt_deg) < 12;
    if (largest < 0.07 && same_tilt) return ViewUse::kSame;
  }
  return ViewUse::kTake;
}

std::string_view ToText(ViewUse use) {
  switch (use) {
    case ViewUse::kTake:
      return "taken";
    case ViewUse::kSame:
      return "too like an earlier view; change the tilt or the place";
    case ViewUse::kTooSmall:
      return "the card is too small in the picture; bring it nearer";
    case ViewUse::kTooSteep:
      return "the card is tilted too far";
  }
  return "";
}

bool HeldStill(const ViewSummary& before, const ViewSummary& now) {
  for (std::size_t i = 0; i < 4; ++i) {
    if ((before.corners[i] - now.corners[i]).norm() > 0.003) return false;
  }
  return true;
}

}  // namespace nearpoint
