#include "vision/pipeline/upper_face.h"

#include <Eigen/Cholesky>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <opencv2/video/tracking.hpp>

#include "vision/distance/head_fit.h"
#include "vision/pipeline/undistorted_ray.h"

namespace nearpoint {
namespace {

// In distances between the eyes: to either side of their middle, and above their line.
constexpr double kHalfWidth = 0.85;
constexpr double kFrom = 0.16;
constexpr double kUpTo = 0.80;
constexpr int kMostPoints = 120;
constexpr std::size_t kLeastPoints = 20;
constexpr double kAgreePx = 1.0;
constexpr int kWindowPx = 27;
constexpr int kMostPictures = 16;  // in the key; marks are made anew with 2, 4, 8 and 16
constexpr double kLeastFoundShare = 0.7;
constexpr double kRoom = 0.35;  // of the upper face's size, to every side

// What is left of a picture when its slow changes of light and the exposure are taken out, so that
// a white card in the picture does not change the skin.
// light: CV_32F.
cv::Mat Texture(const cv::Mat& raw) {
  cv::Mat light;
  cv::GaussianBlur(raw, light, {}, 0.8);
  cv::Mat slow;
  const cv::Size wide(25, 25);
  cv::blur(light, slow, wide);
  cv::Mat fine = light - slow;
  cv::Mat power;
  cv::blur(fine.mul(fine), power, wide);
  cv::sqrt(power, power);
  // A share of the brightness keeps plain skin from becoming noise.
  power += 0.02 * slow + 0.5;
  cv::divide(fine, power, fine);
  cv::Mat out;
  fine.convertTo(out, CV_8U, 40, 128);
  return out;
}

cv::Mat LightOf(const cv::Mat& grey, const cv::Rect& region) {
  cv::Mat light;
  grey(region).convertTo(light, CV_32F);
  return light;
}

// The forehead before the corneal plane, and its radius across (common proportions, no source; on
// the simulated heads 9 to 12 mm and 70 mm).
constexpr double kForeheadMm = 9;
constexpr double kForeheadRadiusMm = 70;
constexpr double kHuberPx = 0.5;
constexpr double kNoisePx = 0.3;

Eigen::Matrix3d Rotation(const Eigen::Vector3d& turn) {
  const double angle = turn.norm();
  if (angle < 1e-12) return Eigen::Matrix3d::Identity();
  return Eigen::AngleAxisd(angle, turn / angle).toRotationMatrix();
}

}  // namespace

std::optional<UpperFace> UpperFace::FromKey(const cv::Mat& grey, const CameraIntrinsics& camera,
                                            const Eigen::Vector3d& mid_mm,
                                            const Eigen::Vector2d& left_eye_px,
                                            const Eigen::Vector2d& right_eye_px) {
  const Eigen::Vector2d across = left_eye_px - right_eye_px;  // to the right in the picture
  const Eigen::Vector2d up(across.y(), -across.x());
  const Eigen::Vector2d middle = (left_eye_px + right_eye_px) / 2;
  std::vector<cv::Point> outline;
  for (const auto& [x, y] : {std::pair{-kHalfWidth, kFrom},
                             {kHalfWidth, kFrom},
                             {kHalfWidth, kUpTo},
                             {-kHalfWidth, kUpTo}}) {
    const Eigen::Vector2d p = middle + x * across + y * up;
    outline.emplace_back(static_cast<int>(std::lround(p.x())),
                         static_cast<int>(std::lround(p.y())));
  }
  const cv::Rect box = cv::boundingRect(outline);
  const cv::Point room(static_cast<int>(kRoom * box.width), static_cast<int>(kRoom * box.height));
  UpperFace out;
  out.camera_ = camera;
  out.key_depth_mm_ = mid_mm.z();
  out.key_mid_mm_ = mid_mm;
  out.region_ = cv::Rect(box.tl() - room, box.br() + room) & cv::Rect({}, grey.size());
  if (out.region_.width < 2 * kWindowPx || out.region_.height < 2 * kWindowPx) return std::nullopt;
  out.sum_ = LightOf(grey, out.region_);
  for (cv::Point& p : outline) p -= out.region_.tl();
  out.outline_ = outline;
  if (!out.Mark()) return std::nullopt;
  return out;
}

bool UpperFace::Mark() {
  const cv::Mat key = Texture(sum_ / pictures_);
  cv::Mat mask = cv::Mat::zeros(region_.size(), CV_8U);
  cv::fillConvexPoly(mask, outline_, cv::Scalar(255));
  // The eyes are 1 / (2 kHalfWidth) of the outline's lower edge apart.
  const double apart = std::max(4.0, 0.05 * cv::norm(outline_[1] - outline_[0]) / (2 * kHalfWidth));
  std::vector<cv::Point2f> points;
  cv::goodFeaturesToTrack(key, points, kMostPoints, 0.01, apart, mask, 5);
  if (points.size() < kLeastPoints) return false;
  key_ = key;
  points_ = std::move(points);
  from_mid_mm_.clear();
  for (const cv::Point2f& p : points_) {
    const Eigen::Vector2d ray = UndistortedRay(
        camera_, {p.x + static_cast<double>(region_.x), p.y + static_cast<double>(region_.y)});
    // Where the ray meets the cylinder, by a few steps from the corneal plane.
    double depth = key_depth_mm_ - kForeheadMm;
    for (int i = 0; i < 6; ++i) {
      const double x = ray.x() * depth - key_mid_mm_.x();
      depth = key_depth_mm_ - kForeheadMm + x * x / (2 * kForeheadRadiusMm);
    }
    from_mid_mm_.emplace_back(Eigen::Vector3d(ray.x() * depth, ray.y() * depth, depth) -
                              key_mid_mm_);
  }
  return true;
}

void UpperFace::Deepen(const cv::Mat& grey, const UpperFaceMotion& motion) {
  if (pictures_ >= kMostPictures ||
      motion.points < kLeastFoundShare * static_cast<double>(points_.size())) {
    return;
  }
  // From the key to this picture: over the forehead an affine map is true to a tenth of a pixel.
  const Eigen::Vector2d origin(region_.x, region_.y);
  const auto n = static_cast<Eigen::Index>(points_.size());
  Eigen::MatrixXd from(n, 3);
  Eigen::MatrixXd to(n, 2);
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto k = static_cast<std::size_t>(i);
    from.row(i) << points_[k].x, points_[k].y, 1;
    to.row(i) = Image(motion, k) - origin;
  }
  const Eigen::Matrix<double, 3, 2> map =
      (from.transpose() * from).ldlt().solve(from.transpose() * to);
  const cv::Matx23d affine(map(0, 0), map(1, 0), map(2, 0), map(0, 1), map(1, 1), map(2, 1));
  cv::Mat laid;
  cv::warpAffine(LightOf(grey, region_), laid, affine, region_.size(),
                 cv::INTER_CUBIC | cv::WARP_INVERSE_MAP, cv::BORDER_REPLICATE);
  sum_ += laid;
  ++pictures_;
  if ((pictures_ & (pictures_ - 1)) == 0) Mark();
}

UpperFaceMotion UpperFace::AtRest() const {
  UpperFaceMotion motion;
  motion.mid_in_key_depths = key_mid_mm_ / key_depth_mm_;
  return motion;
}

Eigen::Vector2d UpperFace::Image(const UpperFaceMotion& motion, std::size_t point) const {
  return ProjectPoint(camera_, Rotation(motion.turn) * from_mid_mm_[point] +
                                   key_depth_mm_ * motion.mid_in_key_depths);
}

std::optional<UpperFaceMotion> UpperFace::Find(const cv::Mat& grey,
                                               const std::optional<UpperFaceMotion>& expected,
                                               double turn_sd_rad) const {
  const Eigen::Vector2d origin(region_.x, region_.y);
  std::vector<cv::Point2f> now = points_;
  for (std::size_t i = 0; expected && i < now.size(); ++i) {
    const Eigen::Vector2d at = Image(*expected, i) - origin;
    now[i] = {static_cast<float>(at.x()), static_cast<float>(at.y())};
  }
  std::vector<uchar> found;
  std::vector<float> error;
  cv::calcOpticalFlowPyrLK(
      key_, Texture(LightOf(grey, region_)), points_, now, found, error,
      cv::Size(kWindowPx, kWindowPx), 2,
      cv::TermCriteria(cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 30, 0.01),
      cv::OPTFLOW_USE_INITIAL_FLOW);
  std::vector<cv::Point2f> from;
  std::vector<cv::Point2f> to;
  std::vector<std::size_t> index;
  for (std::size_t i = 0; i < found.size(); ++i) {
    if (found[i] == 0) continue;
    from.push_back(points_[i]);
    to.push_back(now[i]);
    index.push_back(i);
  }
  const std::size_t needed = std::max(kLeastPoints * 2 / 3, points_.size() / 2);
  if (from.size() < needed) return std::nullopt;
  // Points that ran off are found by an affine map; the rest goes into the motion of the head.
  std::vector<uchar> agrees;
  if (cv::estimateAffine2D(from, to, agrees, cv::RANSAC, kAgreePx, 500, 0.99, 10).empty()) {
    return std::nullopt;
  }
  std::vector<std::size_t> kept;
  for (std::size_t k = 0; k < index.size(); ++k) {
    if (agrees[k] != 0) kept.push_back(index[k]);
  }
  if (kept.size() < needed) return std::nullopt;

  UpperFaceMotion motion = expected.value_or(AtRest());
  const Eigen::Vector3d expected_turn = motion.turn;
  Eigen::Matrix<double, 6, 6> normal;
  double squares = 0;
  for (int iteration = 0; iteration < 12; ++iteration) {
    normal.setZero();
    squares = 0;
    Eigen::Matrix<double, 6, 1> gradient = Eigen::Matrix<double, 6, 1>::Zero();
    // Turns are seen poorly by a nearly flat forehead.
    const double turn_weight = kNoisePx * kNoisePx / (turn_sd_rad * turn_sd_rad);
    normal.topLeftCorner<3, 3>().diagonal().array() += turn_weight;
    gradient.head<3>() += turn_weight * (motion.turn - expected_turn);
    for (const std::size_t i : kept) {
      const Eigen::Vector2d seen = origin + Eigen::Vector2d(now[i].x, now[i].y);
      const Eigen::Vector2d r = Image(motion, i) - seen;
      Eigen::Matrix<double, 2, 6> jacobian;
      for (int k = 0; k < 6; ++k) {
        UpperFaceMotion moved = motion;
        constexpr double kStep = 1e-6;
        (k < 3 ? moved.turn(k) : moved.mid_in_key_depths(k - 3)) += kStep;
        jacobian.col(k) = (Image(moved, i) - seen - r) / kStep;
      }
      const double weight = std::min(1.0, kHuberPx / std::max(1e-9, r.norm()));
      normal += weight * jacobian.transpose() * jacobian;
      gradient += weight * jacobian.transpose() * r;
      squares += weight * r.squaredNorm();
    }
    const Eigen::Matrix<double, 6, 1> step = -normal.ldlt().solve(gradient);
    if (!step.allFinite()) return std::nullopt;
    motion.turn += step.head<3>();
    motion.mid_in_key_depths += step.tail<3>();
    if (step.norm() < 1e-7) break;
  }
  if (motion.turn.norm() > 0.4 || std::abs(motion.mid_in_key_depths.z() - 1) > 0.4) {
    return std::nullopt;
  }
  const double variance = squares / (2.0 * static_cast<double>(kept.size()));
  const Eigen::Matrix<double, 6, 6> covariance =
      variance * normal.ldlt().solve(Eigen::Matrix<double, 6, 6>::Identity());
  motion.depth_sd = std::sqrt(covariance(5, 5)) / motion.mid_in_key_depths.z();
  motion.points = static_cast<int>(kept.size());
  return motion;
}

}  // namespace nearpoint
