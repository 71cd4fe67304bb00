#include "vision/face/eye_net.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <opencv2/dnn.hpp>
#include <opencv2/imgproc.hpp>
#include <utility>

namespace nearpoint {
namespace {

// The sizes that models/eye_net/train_eyes.py trains for.
constexpr int kFrameWidth = 160, kFrameHeight = 96;
constexpr int kStride = 4;
constexpr int kWindowWidth = 64, kWindowHeight = 48;
constexpr double kWindowRadius = 7.5;  // of the iris
constexpr double kUnit = 16;           // pixels of the window in which places are told

// Maps of the finder for each eye: its logits, then offset x, offset y and log size.
constexpr int kMapsAnEye = 3;

// Two eyes of one head: pupil distance over iris radius is 2 * 54 / 13 to 2 * 74 / 10.5 in adults
// and children from about six; turned heads foreshorten it.
constexpr double kLeastApart = 6.0, kMostApart = 15.5;  // iris radii
constexpr double kLargestSizeRatio = 1.5;
constexpr double kSteepest = 0.6;  // slope of the line through both
constexpr double kLeastLogit = -2.5;
constexpr std::size_t kMostPeaks = 4;

// As the networks were trained: less the mean of all values, over their deviation and eight.
cv::Mat Normalised(const cv::Mat& bgr) {
  cv::Mat values;
  bgr.convertTo(values, CV_32F);
  const cv::Mat flat = values.reshape(1);
  cv::Scalar mean, sd;
  cv::meanStdDev(flat, mean, sd);
  const double scale = 1 / (sd[0] + 8);
  cv::Mat out;
  flat.convertTo(out, CV_32F, scale, -mean[0] * scale);
  return cv::dnn::blobFromImage(out.reshape(3, values.rows));
}

std::vector<FoundEye> Peaks(const cv::Mat& maps, int eye, double scale,
                            const Eigen::Vector2d& origin_px) {
  const int rows = maps.size[2], cols = maps.size[3];
  const auto map = [&](int k) {
    return cv::Mat(rows, cols, CV_32F, const_cast<float*>(maps.ptr<float>(0, k)));
  };  // NOLINT
  const cv::Mat logit = map(eye);
  cv::Mat highest;
  cv::dilate(logit, highest, cv::getStructuringElement(cv::MORPH_RECT, {3, 3}));
  std::vector<FoundEye> peaks;
  for (int y = 0; y < rows; ++y) {
    for (int x = 0; x < cols; ++x) {
      const float v = logit.at<float>(y, x);
      if (v < kLeastLogit || v < highest.at<float>(y, x)) continue;
      const auto value = [&](int k) {
        return static_cast<double>(map(2 + kMapsAnEye * eye + k).at<float>(y, x));
      };
      FoundEye found;
      const Eigen::Vector2d at(kStride * (x + value(0)) + (kStride - 1) / 2.0,
                               kStride * (y + value(1)) + (kStride - 1) / 2.0);
      found.middle_px =
          origin_px + scale * (at + Eigen::Vector2d(0.5, 0.5)) - Eigen::Vector2d(0.5, 0.5);
      found.iris_radius_px = scale * kStride * std::exp(value(2));
      found.logit = static_cast<double>(v);
      peaks.push_back(found);
    }
  }
  std::sort(peaks.begin(), peaks.end(),
            [](const auto& a, const auto& b) { return a.logit > b.logit; });
  if (peaks.size() > kMostPeaks) peaks.resize(kMostPeaks);
  return peaks;
}

bool OfOneHead(const FoundEye& left, const FoundEye& right) {
  const Eigen::Vector2d across = right.middle_px - left.middle_px;
  const double radius = std::sqrt(left.iris_radius_px * right.iris_radius_px);
  return across.x() > 0 && across.norm() > kLeastApart * radius &&
         across.norm() < kMostApart * radius && std::abs(across.y()) < kSteepest * across.x() &&
         std::abs(std::log(left.iris_radius_px / right.iris_radius_px)) <
             std::log(kLargestSizeRatio);
}

}  // namespace

LidOpening::LidOpening(const EyeReading& reading)
    : inner_(reading.inner_px),
      along_(reading.outer_px - reading.inner_px),
      length_(along_.norm()) {
  along_ /= std::max(length_, 1e-9);
  const Eigen::Vector2d square(-along_.y(), along_.x());
  // Toward the chin: from the upper margin to the lower.
  Eigen::Vector2d open = Eigen::Vector2d::Zero();
  for (std::size_t k = 0; k < kLidColumns; ++k) open += reading.lower_px[k] - reading.upper_px[k];
  down_ = square.dot(open) < 0 ? Eigen::Vector2d(-square) : square;
  for (std::size_t k = 0; k < kLidColumns; ++k) {
    upper_[k + 1] = (reading.upper_px[k] - inner_).dot(down_);
    lower_[k + 1] = (reading.lower_px[k] - inner_).dot(down_);
  }
}

double LidOpening::Inside(const Eigen::Vector2d& px) const {
  const double at = (px - inner_).dot(along_) / std::max(length_, 1e-9) * (kLidColumns + 1);
  if (at <= 0 || at >= kLidColumns + 1)
    return -std::max(-at, at - kLidColumns - 1) * length_ / (kLidColumns + 1);
  const auto i = std::min(static_cast<std::size_t>(at), static_cast<std::size_t>(kLidColumns));
  const double part = at - static_cast<double>(i);
  const double y = (px - inner_).dot(down_);
  const double upper = upper_[i] + part * (upper_[i + 1] - upper_[i]);
  const double lower = lower_[i] + part * (lower_[i + 1] - lower_[i]);
  return std::min(y - upper, lower - y);
}

struct EyeNet::Impl {
  // OpenCV's networks keep what they compute; asking does not change what they are.
  mutable cv::dnn::Net finder, reader;
};

EyeNet::EyeNet(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
EyeNet::EyeNet(EyeNet&&) noexcept = default;
EyeNet& EyeNet::operator=(EyeNet&&) noexcept = default;
EyeNet::~EyeNet() = default;

Result<EyeNet> EyeNet::Load(const std::string& finder_file, const std::string& reader_file) {
  auto impl = std::make_unique<Impl>();
  for (auto [file, net] :
       {std::pair{finder_file, &impl->finder}, std::pair{reader_file, &impl->reader}}) {
    std::error_code ignored;
    if (!std::filesystem::is_regular_file(file, ignored)) {
      return Fail(ErrorCode::kNotFound,
                  "The eye model '" + file +
                      "' is not there: it belongs to the program, install it again.");
    }
    try {
      *net = cv::dnn::readNetFromONNX(file);
    } catch (const cv::Exception&) {
      *net = cv::dnn::Net();
    }
    if (net->empty()) {
      return Fail(
          ErrorCode::kUnreadable,
          "The eye model '" + file + "' cannot be read as a network: install the program again.");
    }
  }
  return EyeNet(std::move(impl));
}

std::vector<FoundPair> EyeNet::Find(const cv::Mat& bgr, int most) const {
  if (bgr.empty() || bgr.type() != CV_8UC3) return {};
  // The network sees 5 by 3; a picture that is higher is looked at in two parts.
  const double scale = static_cast<double>(bgr.cols) / kFrameWidth;
  const int height = std::max(1, static_cast<int>(std::lround(bgr.rows / scale)));
  cv::Mat small;
  cv::resize(bgr, small, {kFrameWidth, height}, 0, 0,
             scale > 1 ? cv::INTER_AREA : cv::INTER_LINEAR);
  std::vector<int> tops;
  if (height <= kFrameHeight) {
    const int above = (kFrameHeight - height) / 2;
    cv::copyMakeBorder(small, small, above, kFrameHeight - height - above, 0, 0,
                       cv::BORDER_REPLICATE);
    tops = {-above};
  } else {
    tops = {0, height - kFrameHeight};
  }
  std::vector<FoundPair> pairs;
  for (const int top : tops) {
    const cv::Mat view = small.rowRange(std::max(0, top), std::max(0, top) + kFrameHeight);
    impl_->finder.setInput(Normalised(view));
    const cv::Mat maps = impl_->finder.forward();
    const Eigen::Vector2d origin(0, scale * top);
    const auto left = Peaks(maps, 0, scale, origin), right = Peaks(maps, 1, scale, origin);
    for (const FoundEye& l : left) {
      for (const FoundEye& r : right) {
        if (OfOneHead(l, r)) pairs.push_back({l, r});
      }
    }
  }
  std::sort(pairs.begin(), pairs.end(),
            [](const auto& a, const auto& b) { return a.Logit() > b.Logit(); });
  // The same two from both parts of the picture.
  std::vector<FoundPair> out;
  for (const FoundPair& p : pairs) {
    const bool known = std::any_of(out.begin(), out.end(), [&](const FoundPair& o) {
      return (o.image_left.middle_px - p.image_left.middle_px).norm() <
                 p.image_left.iris_radius_px &&
             (o.image_right.middle_px - p.image_right.middle_px).norm() <
                 p.image_right.iris_radius_px;
    });
    if (!known) out.push_back(p);
    if (static_cast<int>(out.size()) == most) break;
  }
  return out;
}

EyeReading EyeNet::Read(const cv::Mat& bgr, const Eigen::Vector2d& middle_px, double iris_radius_px,
                        double eye_line_rad, bool left) const {
  EyeReading out;
  if (bgr.empty() || bgr.type() != CV_8UC3 || !(iris_radius_px > 0.5) || !middle_px.allFinite()) {
    out.present = out.open = -20;
    return out;
  }
  // Large eyes are reduced first, so that nothing aliases.
  const double scale = iris_radius_px / kWindowRadius;
  const double reach = 0.75 * kWindowWidth * scale + 2;
  const cv::Rect around = cv::Rect(static_cast<int>(std::floor(middle_px.x() - reach)),
                                   static_cast<int>(std::floor(middle_px.y() - reach)),
                                   static_cast<int>(std::ceil(2 * reach)) + 1,
                                   static_cast<int>(std::ceil(2 * reach)) + 1) &
                          cv::Rect(0, 0, bgr.cols, bgr.rows);
  if (around.width < 8 || around.height < 8) {
    out.present = out.open = -20;
    return out;
  }
  cv::Mat source = bgr(around);
  const int factor = std::max(1, static_cast<int>(std::floor(scale)));
  if (factor > 1 && around.width >= 2 * factor && around.height >= 2 * factor) {
    cv::resize(source(cv::Rect(0, 0, around.width - around.width % factor,
                               around.height - around.height % factor)),
               source, {around.width / factor, around.height / factor}, 0, 0, cv::INTER_AREA);
  }
  const double part = factor > 1 ? factor : 1;
  const Eigen::Vector2d at =
      (middle_px - Eigen::Vector2d(around.x, around.y) + Eigen::Vector2d(0.5, 0.5)) / part -
      Eigen::Vector2d(0.5, 0.5);
  // A right eye is mirrored, so that the network knows only left ones, whose inner corner is on the
  // left of the picture.
  const double flip = left ? 1 : -1;
  const double c = scale / part * std::cos(eye_line_rad), s = scale / part * std::sin(eye_line_rad);
  const double mx = (kWindowWidth - 1) / 2.0, my = (kWindowHeight - 1) / 2.0;
  const cv::Mat map = (cv::Mat_<double>(2, 3) << c * flip, -s, at.x() - c * flip * mx + s * my,  //
                       s * flip, c, at.y() - s * flip * mx - c * my);
  cv::Mat window;
  cv::warpAffine(source, window, map, {kWindowWidth, kWindowHeight},
                 cv::INTER_LINEAR | cv::WARP_INVERSE_MAP, cv::BORDER_REPLICATE);
  impl_->reader.setInput(Normalised(window));
  const cv::Mat answer = impl_->reader.forward();
  const auto v = [&](int i) { return static_cast<double>(answer.at<float>(0, i)); };
  const auto to_picture = [&](double x, double y) -> Eigen::Vector2d {
    const double px = flip * scale * x, py = scale * y;
    return middle_px + Eigen::Vector2d(std::cos(eye_line_rad) * px - std::sin(eye_line_rad) * py,
                                       std::sin(eye_line_rad) * px + std::cos(eye_line_rad) * py);
  };
  out.present = v(0);
  out.open = v(26);
  out.iris_px = to_picture(kUnit * v(1), kUnit * v(2));
  out.iris_radius_px = iris_radius_px * std::exp(std::clamp(v(3), -1.5, 1.5));
  // Trained as the scale of a Laplace distribution, whose standard deviation is larger by the root
  // of two.
  out.place_sd_px = std::sqrt(2.0) * kUnit * scale * std::exp(std::clamp(v(24), -6.0, 3.0));
  out.size_relative_sd = std::sqrt(2.0) * std::exp(std::clamp(v(25), -6.0, 3.0));
  const Eigen::Vector2d inner(kUnit * v(4), kUnit * v(5)), outer(kUnit * v(6), kUnit * v(7));
  out.inner_px = to_picture(inner.x(), inner.y());
  out.outer_px = to_picture(outer.x(), outer.y());
  const Eigen::Vector2d along = outer - inner;
  Eigen::Vector2d down = Eigen::Vector2d(-along.y(), along.x()) / std::max(along.norm(), 1e-9);
  if (down.y() < 0) down = -down;
  for (int k = 0; k < kLidColumns; ++k) {
    const Eigen::Vector2d base = inner + along * (k + 1.0) / (kLidColumns + 1.0);
    const Eigen::Vector2d upper = base + down * kUnit * v(8 + k),
                          lower = base + down * kUnit * v(8 + kLidColumns + k);
    out.upper_px[static_cast<std::size_t>(k)] = to_picture(upper.x(), upper.y());
    out.lower_px[static_cast<std::size_t>(k)] = to_picture(lower.x(), lower.y());
  }
  out.aperture = v(22);
  out.limbus_seen = std::clamp(v(23), 0.0, 1.0);
  return out;
}

}  // namespace nearpoint
