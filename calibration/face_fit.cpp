#include "calibration/face_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace nearpoint {
namespace {

// Centre of rotation behind the corneal apex and the limbus in front of it; the values of
// vision/distance/head_model.h with their sources.
constexpr double kApexMm = 13.5;
constexpr double kLimbusFromCentreMm = 10.86;

constexpr double kLimbusSdPx = 0.15;  // of a centre, to begin with; then what the scatter says
constexpr double kCornerSdPx = 0.5;   // likewise, of a lid corner
constexpr double kHuber = 2.5;
// Before any picture: how deep the centres of rotation lie behind the pattern side of a card on a
// face. Corneal plane 5 to 20 mm behind forehead or lips (no published value found; wide) and 13.5.
constexpr double kDepthMm = 26;
constexpr double kDepthSdMm = 15;
constexpr double kNearestDepthMm = 4;
constexpr double kFarthestDepthMm = 62;
constexpr double kLargestSlantDeg = 12;  // line of the eyes against the card, out of its plane

Eigen::Vector2d Project(const CameraIntrinsics& camera, const Eigen::Vector3d& p) {
  const auto& [k1, k2, p1, p2, k3] = camera.distortion;
  const double x = p.x() / p.z();
  const double y = p.y() / p.z();
  const double r2 = x * x + y * y;
  const double radial = 1 + r2 * (k1 + r2 * (k2 + r2 * k3));
  return {camera.fx * (x * radial + 2 * p1 * x * y + p2 * (r2 + 2 * x * x)) + camera.cx,
          camera.fy * (y * radial + p1 * (r2 + 2 * y * y) + 2 * p2 * x * y) + camera.cy};
}

// Ellipse of a small circle: middle and major axis from the first two moments of its points.
struct Ellipse {
  Eigen::Vector2d centre_px;
  double major_px;
};
Ellipse ImageOfCircle(const CameraIntrinsics& camera, const Eigen::Vector3d& centre,
                      const Eigen::Vector3d& normal, double radius) {
  constexpr int kPoints = 32;
  const Eigen::Vector3d a = normal.unitOrthogonal();
  const Eigen::Vector3d b = normal.cross(a);
  Eigen::Matrix<double, 2, kPoints> px;
  for (int i = 0; i < kPoints; ++i) {
    const double angle = 2 * std::numbers::pi * i / kPoints;
    px.col(i) = Project(camera, centre + radius * (std::cos(angle) * a + std::sin(angle) * b));
  }
  const Eigen::Vector2d mean = px.rowwise().mean();
  const Eigen::Matrix2d moments =
      (px.colwise() - mean) * (px.colwise() - mean).transpose() / static_cast<double>(kPoints);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> solver(moments);
  return {mean, 2 * std::sqrt(2 * solver.eigenvalues().maxCoeff())};
}

// A rigid point in the card frame, triangulated.
struct RigidPoint {
  Eigen::Vector3d in_card_mm;
  Eigen::Matrix3d covariance;
  double misfit_px = 0;  // root mean square of what agrees
  int used = 0, left_out = 0;
  std::vector<bool> agrees;  // per view; false where not seen
};

// predict(point in card, view): pixel.
template <typename Predict, typename Seen>
std::optional<RigidPoint> Triangulate(const std::vector<FaceCardView>& views, Eigen::Vector3d start,
                                      double sd_px, const Seen& seen, const Predict& predict) {
  RigidPoint out;
  out.in_card_mm = start;
  double sd = sd_px;
  std::vector<const FaceCardView*> with;
  for (const FaceCardView& view : views) {
    if (seen(view)) with.push_back(&view);
  }
  if (with.size() < 3) return std::nullopt;
  Eigen::Matrix3d normal;
  for (int iteration = 0; iteration < 25; ++iteration) {
    normal.setZero();
    // Sideways nothing is known beforehand, and in depth little.
    Eigen::Vector3d gradient = Eigen::Vector3d::Zero();
    const double depth_weight = 1 / (kDepthSdMm * kDepthSdMm);
    normal(2, 2) += depth_weight;
    gradient.z() += depth_weight * (out.in_card_mm.z() - start.z());
    std::vector<double> off;
    for (const FaceCardView* view : with) {
      const Eigen::Vector2d r = predict(out.in_card_mm, *view) - *seen(*view);
      Eigen::Matrix<double, 2, 3> jacobian;
      for (int k = 0; k < 3; ++k) {
        Eigen::Vector3d moved = out.in_card_mm;
        moved(k) += 1e-4;
        jacobian.col(k) = (predict(moved, *view) - *seen(*view) - r) / 1e-4;
      }
      const double weight = std::min(1.0, kHuber * sd / std::max(1e-9, r.norm())) / (sd * sd);
      normal += weight * jacobian.transpose() * jacobian;
      gradient += weight * jacobian.transpose() * r;
      off.push_back(r.norm());
    }
    const Eigen::Vector3d step = -normal.ldlt().solve(gradient);
    if (!step.allFinite()) return std::nullopt;
    out.in_card_mm += step;
    // The scatter as it is: the median length of a two-dimensional error is 1.18 deviations.
    std::nth_element(off.begin(), off.begin() + static_cast<std::ptrdiff_t>(off.size() / 2),
                     off.end());
    sd = std::max(sd_px, off[off.size() / 2] / 1.18);
    if (iteration > 4 && step.norm() < 1e-6) break;
  }
  out.covariance = normal.ldlt().solve(Eigen::Matrix3d::Identity());
  double squares = 0;
  for (const FaceCardView& view : views) {
    const auto at = seen(view);
    const double off = at ? (predict(out.in_card_mm, view) - *at).norm() : 0;
    const bool agrees = at && off < 4 * sd;
    out.agrees.push_back(agrees);
    if (!at) continue;
    ++(agrees ? out.used : out.left_out);
    if (agrees) squares += off * off;
  }
  if (out.used == 0) return std::nullopt;
  out.misfit_px = std::sqrt(squares / (2 * out.used));
  return out;
}

Eigen::Vector3d InCamera(const FaceCardView& view, const Eigen::Vector3d& in_card) {
  return view.camera_from_card * in_card + view.card_middle_mm;
}

double TurnOf(const std::vector<FaceCardView>& views) {
  // The angle between what is farthest apart of the card's normals: any turn out of the picture's
  // plane tells depth.
  double smallest = 1;
  for (const FaceCardView& a : views) {
    for (const FaceCardView& b : views) {
      smallest = std::min(smallest, a.camera_from_card.col(2).dot(b.camera_from_card.col(2)));
    }
  }
  return std::acos(std::clamp(smallest, -1.0, 1.0)) * 180 / std::numbers::pi;
}

std::string Text(const char* format, double value) {
  std::array<char, 400> text{};
  std::snprintf(text.data(), text.size(), format, value);
  return text.data();
}

struct IrisSize {
  double mm = 0, sd_mm = 0;
};

// The diameter that explains the size of one eye's limbus in the pictures where its place agrees.
std::optional<IrisSize> SizeOf(const std::vector<FaceCardView>& views, const RigidPoint& centre,
                               const CameraIntrinsics& camera, const FaceFitOptions& options,
                               std::optional<SeenIris> FaceCardView::*iris) {
  std::vector<double> sizes;
  constexpr double kUnit = 11.7;
  for (std::size_t i = 0; i < views.size(); ++i) {
    if (!centre.agrees[i]) continue;
    const Eigen::Vector3d c = InCamera(views[i], centre.in_card_mm);
    const Eigen::Vector3d gaze = (options.fixation_mm - c).normalized();
    const Ellipse unit = ImageOfCircle(camera, c + kLimbusFromCentreMm * gaze, gaze, kUnit / 2);
    sizes.push_back(kUnit * (views[i].*iris)->major_px / unit.major_px);
  }
  if (sizes.size() < 3) return std::nullopt;
  std::sort(sizes.begin(), sizes.end());
  const std::size_t n = sizes.size();
  const double median = sizes[n / 2];
  std::vector<double> off;
  off.reserve(n);
  for (const double v : sizes) off.push_back(std::abs(v - median));
  std::sort(off.begin(), off.end());
  const double sd = 1.48 * off[n / 2];
  double sum = 0;
  int used = 0;
  for (const double v : sizes) {
    if (std::abs(v - median) > std::max(3 * sd, 0.01 * median)) continue;
    sum += v;
    ++used;
  }
  // A few pictures a second are not independent looks; a quarter of them is.
  return IrisSize{sum / used, sd / std::sqrt(std::max(1.0, used / 4.0))};
}

}  // namespace

Result<FaceFit> FitFaceScale(const std::vector<FaceCardView>& views, const CameraIntrinsics& camera,
                             const FaceFitOptions& options) {
  const auto both = std::count_if(views.begin(), views.end(),
                                  [](const FaceCardView& v) { return v.left && v.right; });
  if (both < options.least_views) {
    return Fail(ErrorCode::kInsufficient,
                "Card and both eyes are seen together in " + std::to_string(both) +
                    " pictures, at least " + std::to_string(options.least_views) +
                    " are needed: hold the card flat on the forehead with eyes and pattern free, "
                    "about 45 cm from the camera.");
  }
  FaceFit fit;
  fit.turn_deg = TurnOf(views);
  if (fit.turn_deg < options.least_turn_deg) {
    return Fail(ErrorCode::kInsufficient,
                Text("The head turned by %.0f degrees in all; turn it slowly about 10 degrees to "
                     "either side with the card resting on it, or the depth of the eyes stays "
                     "unknown.",
                     fit.turn_deg));
  }

  std::vector<PrintAspect> aspects;
  for (const FaceCardView& view : views) {
    if (view.aspect) aspects.push_back(*view.aspect);
  }
  fit.aspect = MeanAspect(aspects);
  if (fit.aspect) {
    if (auto shape = CheckAspect(*fit.aspect); !shape) return tl::unexpected(shape.error());
  }

  const auto limbus_seen = [](std::optional<SeenIris> FaceCardView::*iris) {
    return [iris](const FaceCardView& view) -> std::optional<Eigen::Vector2d> {
      if (!(view.*iris)) return std::nullopt;
      return (view.*iris)->centre_px;
    };
  };
  const auto limbus = [&](const Eigen::Vector3d& centre, const FaceCardView& view) {
    const Eigen::Vector3d c = InCamera(view, centre);
    const Eigen::Vector3d gaze = (options.fixation_mm - c).normalized();
    return ImageOfCircle(camera, c + kLimbusFromCentreMm * gaze, gaze, 5.85).centre_px;
  };
  // Below a card on the forehead, above one under the nose: the pictures say which.
  const auto start_of = [&](std::optional<SeenIris> FaceCardView::*iris) {
    for (const FaceCardView& view : views) {
      if (!(view.*iris)) continue;
      const Eigen::Vector2d px = (view.*iris)->centre_px;
      const Eigen::Vector3d ray((px.x() - camera.cx) / camera.fx, (px.y() - camera.cy) / camera.fy,
                                1);
      const Eigen::Vector3d normal = view.camera_from_card.col(2);
      const double along = (view.card_middle_mm + kDepthMm * normal).dot(normal) / ray.dot(normal);
      return Eigen::Vector3d(view.camera_from_card.transpose() *
                             (along * ray - view.card_middle_mm));
    }
    return Eigen::Vector3d(0, 50, kDepthMm);
  };
  const auto left = Triangulate(views, start_of(&FaceCardView::left), kLimbusSdPx,
                                limbus_seen(&FaceCardView::left), limbus);
  const auto right = Triangulate(views, start_of(&FaceCardView::right), kLimbusSdPx,
                                 limbus_seen(&FaceCardView::right), limbus);
  const std::string repeat =
      " Hold the card still on the skin and look into the lens all the time; then repeat.";
  if (!left || !right || left->used < options.least_views || right->used < options.least_views) {
    return Fail(ErrorCode::kBadValue, "The eyes do not move with the card as one head." + repeat);
  }
  fit.misfit_px = std::hypot(left->misfit_px, right->misfit_px) / std::numbers::sqrt2;
  fit.views_used = std::max(left->used, right->used);
  fit.views_left_out = std::max(left->left_out, right->left_out);

  const Eigen::Vector3d across = left->in_card_mm - right->in_card_mm;
  const double pd = across.norm();
  const Eigen::Vector3d middle = (left->in_card_mm + right->in_card_mm) / 2;
  const double distance = InCamera(views.front(), middle).norm();
  // What the pictures allow for the eyes' place is far smaller than a card that slips.
  const double misfit_mm = fit.misfit_px * distance / camera.fx;
  if (misfit_mm > 1.2) {
    return Fail(
        ErrorCode::kBadValue,
        Text("The card and the eyes do not move together: they slip by %.1f mm.", misfit_mm) +
            repeat);
  }
  if (middle.z() < kNearestDepthMm || middle.z() > kFarthestDepthMm) {
    return Fail(ErrorCode::kBadValue,
                Text("The card is at another depth than the face: the eyes lie %.0f mm behind it.",
                     middle.z() - kApexMm) +
                    " Lay it flat on the forehead or under the nose and repeat.");
  }
  const double slant = std::asin(std::abs(across.z()) / pd) * 180 / std::numbers::pi;
  if (slant > kLargestSlantDeg) {
    return Fail(ErrorCode::kBadValue,
                Text("The card is tilted by %.0f degrees against the face.", slant) +
                    " Lay it flat and repeat.");
  }

  // Head frame in the card's: x to the patient's left, z out of the face.
  const Eigen::Vector3d x = across / pd;
  const Eigen::Vector3d y = (-Eigen::Vector3d::UnitZ()).cross(x).normalized();
  const Eigen::Vector3d forward = x.cross(y);
  const Eigen::Vector3d apex = middle + kApexMm * forward;
  fit.eyes_behind_card = Length::Millimeters(apex.z());
  const Eigen::Matrix3d depth_covariance = (left->covariance + right->covariance) / 4;
  const double depth_sd = std::sqrt(forward.dot(depth_covariance * forward));

  const auto known = [](double mm, double sd) {
    return UncertainLength{Length::Millimeters(mm), Length::Millimeters(sd)};
  };
  const double scale = options.card_rel_sd;
  const double pd_measured = std::sqrt(x.dot((left->covariance + right->covariance) * x)) *
                             2;  // frames are not independent
  fit.face.distance_pd = known(
      pd, std::hypot(pd_measured, std::numbers::sqrt2 * options.fixation_sd.mm(), scale * pd));

  const auto size_left = SizeOf(views, *left, camera, options, &FaceCardView::left);
  const auto size_right = SizeOf(views, *right, camera, options, &FaceCardView::right);
  if (!size_left || !size_right) {
    return Fail(ErrorCode::kInsufficient, "The irises are seen too rarely." + repeat);
  }
  const double iris = (size_left->mm + size_right->mm) / 2;
  const double between = std::abs(size_left->mm - size_right->mm) / 2;
  fit.face.iris =
      known(iris, std::sqrt(std::pow(std::hypot(size_left->sd_mm, size_right->sd_mm) / 2, 2) +
                            between * between / 2 +
                            std::pow(iris * std::hypot(options.iris_rel_sd, scale), 2) +
                            std::pow(iris * 2 * depth_sd / distance, 2)));

  std::array<std::optional<RigidPoint>, kFaceCorners> corners;
  for (std::size_t i = 0; i < kFaceCorners; ++i) {
    const auto seen = [i](const FaceCardView& view) { return view.corners_px[i]; };
    const auto place = [&](const Eigen::Vector3d& point, const FaceCardView& view) {
      return Project(camera, InCamera(view, point));
    };
    Eigen::Vector3d start = apex - 7 * forward;
    const double aside[kFaceCorners] = {-44, -17, 17, 44};
    start += aside[i] * x;
    corners[i] = Triangulate(views, start, kCornerSdPx, seen, place);
  }
  double eyelids = 0;
  int eyelid_corners = 0;
  const auto pair = [&](std::size_t a, std::size_t b, std::optional<UncertainLength>& width,
                        std::optional<UncertainLength>& depth) {
    if (!corners[a] || !corners[b]) return;
    const Eigen::Vector3d span = corners[b]->in_card_mm - corners[a]->in_card_mm;
    const double mm = std::abs(span.dot(x));
    const double sd = 2 * std::sqrt(x.dot((corners[a]->covariance + corners[b]->covariance) * x));
    width = known(mm, std::hypot(sd, std::numbers::sqrt2 * options.corner_sd.mm(), scale * mm));
    const double behind =
        (apex - (corners[a]->in_card_mm + corners[b]->in_card_mm) / 2).dot(forward);
    const double behind_sd = std::sqrt(forward.dot(
        (corners[a]->covariance + corners[b]->covariance + depth_covariance * 4) * forward));
    // A landmark creeps along the lid as the head turns, which looks like depth.
    depth = known(behind, std::hypot(behind_sd, 2.0));
    eyelids += behind;
    ++eyelid_corners;
  };
  pair(0, 3, fit.face.outer_corners, fit.face.outer_corner_depth);
  pair(1, 2, fit.face.inner_corners, fit.face.inner_corner_depth);
  if (eyelid_corners > 0) {
    // Eyes that turn with the head instead of staying on the lens pivot about the limbus, and the
    // centres of rotation seem to lie 11 mm too near: in front of the lids.
    const double mean = eyelids / eyelid_corners;
    if (mean < -2.5 || mean > 17) {
      return Fail(ErrorCode::kBadValue,
                  "The eyes did not stay on the lens while the head turned." + repeat);
    }
  }
  for (auto* length :
       {&fit.face.outer_corners, &fit.face.inner_corners, &fit.face.iris, &fit.face.distance_pd,
        &fit.face.outer_corner_depth, &fit.face.inner_corner_depth}) {
    if (!*length) continue;
    (*length)->value = (*length)->value * options.card_scale;
    (*length)->sd = (*length)->sd * options.card_scale;
  }
  fit.eyes_behind_card = fit.eyes_behind_card * options.card_scale;
  return fit;
}

}  // namespace nearpoint
