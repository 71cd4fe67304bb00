#include "vision/face/eye_region_detector.h"

#include <dlib/image_processing/object_detector.h>
#include <dlib/image_processing/scan_fhog_pyramid.h>
#include <dlib/image_transforms/image_pyramid.h>
#include <dlib/opencv.h>
#include <dlib/serialize.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <utility>

namespace nearpoint {
namespace {

using Scanner = dlib::scan_fhog_pyramid<dlib::pyramid_down<5>>;
using Weights = Scanner::feature_vector_type;

// Windows this far below the boundary still count when a second eye supports them.
constexpr double kLowestScore = -1.0;
// Of the sum of a pair's scores, and of the score of an eye alone.
constexpr double kLowestPair = -1.2;
constexpr double kLowestSingle = 0.1;
// Windows whose score is within this of a peak take part in its place and size.
constexpr double kPeakDepth = 0.5;
constexpr std::size_t kMostPeaks = 6;
// dlib rounds a window to whole cells of 0.3 irises each; what remains of that on average, in
// irises, for the eye on the left and on the right of the picture. Measured by train_eye_regions.
const std::array<Eigen::Vector2d, 2> kRounding{Eigen::Vector2d(0.10, 0.10),
                                               Eigen::Vector2d(0.0, 0.10)};

// Two eyes of one head: pupil distance over iris diameter is 54 / 13 to 74 / 10.5 in adults and
// children from about six, and the openings lie a little farther apart than converged pupils. Heads
// roll by up to about 20 degrees.
constexpr double kNearestInIrises = 3.6;
constexpr double kFarthestInIrises = 7.2;
constexpr double kLargestSizeRatio = 1.45;
constexpr double kLargestSlope = 0.36;

struct Candidate {
  Eigen::Vector2d centre_px;
  double log_iris = 0;
  double score = 0;
};

// The same window for the mirrored picture. Planes of the features: 18 signed directions of 20
// degrees, 9 unsigned, and the energies towards lower right, upper right, lower left, upper left.
Weights Mirrored(const Weights& weights, const Scanner& scanner) {
  const auto width = static_cast<long>(scanner.get_fhog_window_width());
  const auto height = static_cast<long>(scanner.get_fhog_window_height());
  const auto mirrored_plane = [](long plane) -> long {
    if (plane < 18) return (9 - plane + 18) % 18;
    if (plane < 27) return 18 + (9 - (plane - 18)) % 9;
    return 27 + (plane - 27 + 2) % 4;
  };
  Weights out = weights;  // the last, the threshold, stays
  for (long plane = 0; plane < 31; ++plane) {
    for (long row = 0; row < height; ++row) {
      for (long col = 0; col < width; ++col) {
        out((mirrored_plane(plane) * height + row) * width + (width - 1 - col)) =
            weights((plane * height + row) * width + col);
      }
    }
  }
  return out;
}

// The windows around each local maximum joined to one candidate, best first.
std::vector<Candidate> Peaks(std::vector<Candidate> windows) {
  std::vector<Candidate> peaks;
  std::sort(windows.begin(), windows.end(),
            [](const auto& a, const auto& b) { return a.score > b.score; });
  while (!windows.empty() && peaks.size() < kMostPeaks) {
    const Candidate best = windows.front();
    const double iris = std::exp(best.log_iris);
    Candidate mean{Eigen::Vector2d::Zero(), 0, best.score};
    double sum = 0;
    std::vector<Candidate> rest;
    for (const Candidate& w : windows) {
      const double away = (w.centre_px - best.centre_px).norm();
      const double weight = w.score - (best.score - kPeakDepth);
      if (weight > 0 && away < 0.7 * iris && std::abs(w.log_iris - best.log_iris) < 0.4) {
        mean.centre_px += weight * w.centre_px;
        mean.log_iris += weight * w.log_iris;
        sum += weight;
      }
      if (away > 1.6 * std::max(iris, std::exp(w.log_iris))) rest.push_back(w);
    }
    mean.centre_px /= sum;
    mean.log_iris /= sum;
    peaks.push_back(mean);
    windows = std::move(rest);
  }
  return peaks;
}

bool FitTogether(const Candidate& image_left, const Candidate& image_right) {
  const Eigen::Vector2d across = image_right.centre_px - image_left.centre_px;
  const double iris = std::exp((image_left.log_iris + image_right.log_iris) / 2);
  return across.x() > 0 && across.norm() > kNearestInIrises * iris &&
         across.norm() < kFarthestInIrises * iris &&
         std::abs(across.y()) < kLargestSlope * across.x() &&
         std::abs(image_left.log_iris - image_right.log_iris) < std::log(kLargestSizeRatio);
}

EyeRegion ToRegion(const Candidate& c) {
  return {c.centre_px, std::exp(c.log_iris), 1 / (1 + std::exp(-2 * c.score))};
}

}  // namespace

struct EyeRegionDetector::Impl {
  Scanner scanner;
  struct Side {
    Scanner::fhog_filterbank filters;
    Eigen::Vector2d rounding;
  };
  std::array<Side, 2> sides;  // the eye on the left of the picture, the eye on the right
  double threshold = 0;

  [[nodiscard]] std::vector<Candidate> Search(const Scanner& loaded, const Side& side,
                                              double reduction) const {
    std::vector<std::pair<double, dlib::rectangle>> found;
    loaded.detect(side.filters, found, threshold + kLowestScore);
    std::vector<Candidate> windows;
    for (const auto& [score, rect] : found) {
      const auto c = dlib::dcenter(rect);
      const double iris = static_cast<double>(rect.width()) * reduction / kEyeRegionInIrises;
      const Eigen::Vector2d at((c.x() + 0.5) * reduction - 0.5, (c.y() + 0.5) * reduction - 0.5);
      windows.push_back({at - iris * side.rounding, std::log(iris), score - threshold});
    }
    return Peaks(std::move(windows));
  }
};

EyeRegionDetector::EyeRegionDetector(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
EyeRegionDetector::EyeRegionDetector(EyeRegionDetector&&) noexcept = default;
EyeRegionDetector& EyeRegionDetector::operator=(EyeRegionDetector&&) noexcept = default;
EyeRegionDetector::~EyeRegionDetector() = default;

Result<EyeRegionDetector> EyeRegionDetector::Load(const std::string& file) {
  std::error_code ignored;
  if (!std::filesystem::is_regular_file(file, ignored)) {
    return Fail(ErrorCode::kNotFound,
                "The eye region model '" + file +
                    "' is not there: it belongs to the program, install it again.");
  }
  dlib::object_detector<Scanner> detector;
  try {
    dlib::deserialize(file) >> detector;
  } catch (const std::exception&) {
    return Fail(ErrorCode::kUnreadable,
                "The eye region model '" + file +
                    "' cannot be read as a dlib object detector: install the program again.");
  }
  const Scanner& scanner = detector.get_scanner();
  const bool whole = detector.num_detectors() == 1 && scanner.get_fhog_window_width() % 2 == 1 &&
                     detector.get_w().size() == scanner.get_num_dimensions() + 1;
  if (!whole) {
    return Fail(ErrorCode::kBadValue,
                "The eye region model '" + file +
                    "' holds another kind of detector: install the program again.");
  }
  auto impl = std::make_unique<Impl>();
  impl->scanner.copy_configuration(scanner);
  impl->threshold = detector.get_w()(scanner.get_num_dimensions());
  impl->sides[0].filters = scanner.build_fhog_filterbank(detector.get_w());
  impl->sides[1].filters = scanner.build_fhog_filterbank(Mirrored(detector.get_w(), scanner));
  for (std::size_t i = 0; i < 2; ++i) impl->sides[i].rounding = kRounding[i];
  return EyeRegionDetector(std::move(impl));
}

std::vector<EyeRegion> EyeRegionDetector::Detect(const cv::Mat& grey) const {
  if (grey.empty() || grey.type() != CV_8UC1) return {};
  // The smallest eye fills the window once.
  const double smallest_box = kSmallestIrisInWidths * kEyeRegionInIrises * grey.cols;
  const auto window = static_cast<double>(impl_->scanner.get_detection_window_width());
  const double reduction = smallest_box / window;
  const cv::Size size(static_cast<int>(std::lround(grey.cols / reduction)),
                      std::max(1, static_cast<int>(std::lround(grey.rows / reduction))));
  cv::Mat halved = grey;
  if (reduction > 2) cv::resize(grey, halved, {}, 0.5, 0.5, cv::INTER_AREA);  // a fast case
  cv::Mat small;
  cv::resize(halved, small, size, 0, 0, reduction > 1 ? cv::INTER_AREA : cv::INTER_LINEAR);
  Scanner scanner;  // keeps the features of a picture, so each call has its own
  scanner.copy_configuration(impl_->scanner);
  scanner.load(dlib::cv_image<unsigned char>(small));
  const auto left = impl_->Search(scanner, impl_->sides[0], reduction);
  const auto right = impl_->Search(scanner, impl_->sides[1], reduction);

  std::optional<std::pair<Candidate, Candidate>> best;
  double best_score = kLowestPair;
  for (const Candidate& l : left) {
    for (const Candidate& r : right) {
      if (l.score + r.score > best_score && FitTogether(l, r)) {
        best_score = l.score + r.score;
        best = {l, r};
      }
    }
  }
  if (best) {
    if (best->first.score < best->second.score) std::swap(best->first, best->second);
    return {ToRegion(best->first), ToRegion(best->second)};
  }
  const Candidate* single = nullptr;
  for (const auto* side : {&left, &right}) {
    if (side->empty() || side->front().score < kLowestSingle) continue;
    if (single == nullptr || side->front().score > single->score) single = &side->front();
  }
  if (single == nullptr) return {};
  return {ToRegion(*single)};
}

}  // namespace nearpoint
