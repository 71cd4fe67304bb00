#include "vision/face/face_finder.h"

#include <dlib/geometry/rectangle.h>
#include <dlib/image_processing/frontal_face_detector.h>
#include <dlib/image_processing/shape_predictor.h>
#include <dlib/opencv.h>
#include <dlib/serialize.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <opencv2/imgproc.hpp>

namespace nearpoint {
namespace {

// Where the mean shape's landmarks lie in the unit square of the detector's box: centre and size of
// the group that is used to carry a box from one frame to the next. The outline of the jaw is left
// out, it is the least certain.
constexpr int kFirstInner = 17;

struct Spread {
  Eigen::Vector2d mean = Eigen::Vector2d::Zero();
  double rms = 0;
};

template <typename PointAt>
Spread SpreadOf(PointAt point_at) {
  Spread s;
  const int n = 68 - kFirstInner;
  for (int i = kFirstInner; i < 68; ++i) s.mean += point_at(i) / n;
  for (int i = kFirstInner; i < 68; ++i) s.rms += (point_at(i) - s.mean).squaredNorm() / n;
  s.rms = std::sqrt(s.rms);
  return s;
}

}  // namespace

struct FaceFinder::Impl {
  mutable dlib::frontal_face_detector detector;  // dlib's scan reuses internal buffers
  dlib::shape_predictor predictor;
  Spread mean_shape;  // in units of the box
};

FaceFinder::FaceFinder(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
FaceFinder::FaceFinder(FaceFinder&&) noexcept = default;
FaceFinder& FaceFinder::operator=(FaceFinder&&) noexcept = default;
FaceFinder::~FaceFinder() = default;

Result<FaceFinder> FaceFinder::Load(const std::string& landmark_file) {
  std::error_code ignored;
  if (!std::filesystem::is_regular_file(landmark_file, ignored)) {
    return Fail(ErrorCode::kNotFound, "The landmark model '" + landmark_file +
                                          "' is not there: install the package libdlib-data.");
  }
  auto impl = std::make_unique<Impl>();
  impl->detector = dlib::get_frontal_face_detector();
  try {
    dlib::deserialize(landmark_file) >> impl->predictor;
    // The model file begins with its version and its mean shape, x and y in turn, in units of the
    // detector's box.
    int version = 0;
    dlib::matrix<float, 0, 1> mean_shape;
    dlib::deserialize(landmark_file) >> version >> mean_shape;
    if (mean_shape.size() == 2 * 68) {
      impl->mean_shape = SpreadOf([&](int i) {
        return Eigen::Vector2d(mean_shape(2 * i) - 0.5, mean_shape(2 * i + 1) - 0.5);
      });
    }
  } catch (const std::exception& e) {
    return Fail(ErrorCode::kUnreadable,
                "The landmark model '" + landmark_file +
                    "' cannot be read as a dlib shape predictor: " + e.what());
  }
  if (impl->predictor.num_parts() != 68) {
    return Fail(ErrorCode::kBadValue, "The landmark model '" + landmark_file + "' has " +
                                          std::to_string(impl->predictor.num_parts()) +
                                          " points; 68 are expected.");
  }
  return FaceFinder(std::move(impl));
}

std::optional<FaceBox> FaceFinder::Detect(const cv::Mat& grey, double reduction) const {
  cv::Mat small;
  if (reduction == 1) {
    small = grey;
  } else {
    cv::resize(grey, small, cv::Size(), 1 / reduction, 1 / reduction, cv::INTER_AREA);
  }
  // A border lets the detector see faces that touch the edge of the picture.
  const int border = small.cols / 8;
  cv::Mat framed;
  cv::copyMakeBorder(small, framed, border, border, border, border, cv::BORDER_REPLICATE);
  const dlib::cv_image<unsigned char> view(framed);
  const auto found = impl_->detector(view);
  if (found.empty()) return std::nullopt;
  const auto largest = *std::max_element(
      found.begin(), found.end(), [](const auto& a, const auto& b) { return a.area() < b.area(); });
  FaceBox box;
  const auto c = dlib::dcenter(largest);
  box.centre_px = Eigen::Vector2d((c.x() - border + 0.5) * reduction - 0.5,
                                  (c.y() - border + 0.5) * reduction - 0.5);
  box.side_px = static_cast<double>(largest.width()) * reduction;
  return box;
}

Landmarks FaceFinder::Fit(const cv::Mat& grey, const FaceBox& box) const {
  const dlib::cv_image<unsigned char> view(grey);
  const double half = box.side_px / 2;
  const dlib::rectangle rect(
      std::lround(box.centre_px.x() - half), std::lround(box.centre_px.y() - half),
      std::lround(box.centre_px.x() + half), std::lround(box.centre_px.y() + half));
  const auto shape = impl_->predictor(view, rect);
  Landmarks out;
  for (unsigned long i = 0; i < 68; ++i) {
    out[i] = {static_cast<double>(shape.part(i).x()), static_cast<double>(shape.part(i).y())};
  }
  return out;
}

FaceBox FaceFinder::BoxFrom(const Landmarks& landmarks) const {
  const Spread seen = SpreadOf([&](int i) { return landmarks[static_cast<std::size_t>(i)]; });
  FaceBox box;
  box.side_px = seen.rms / impl_->mean_shape.rms;
  box.centre_px = seen.mean - impl_->mean_shape.mean * box.side_px;
  return box;
}

}  // namespace nearpoint
