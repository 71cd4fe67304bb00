#include "app/live/eye_strip.h"

#include <algorithm>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace nearpoint {
namespace {

// In irises. Pupils are 50 to 75 mm apart in people of school age and older, an iris is 11 to 13 mm
// wide (from memory), and near the lens both converge.
constexpr double kNearestPair = 3;
constexpr double kWidestPair = 8;
constexpr double kBeside = 1.3;  // an eye opening is 30 mm long
constexpr double kHigh = 1.6;
constexpr int kWidest = 320;
constexpr int kQuality = 85;

}  // namespace

std::optional<std::string> CutEyeStrip(const cv::Mat& bgr, const DistanceSample& sample) {
  if (bgr.empty() || !sample.left_eye || !sample.right_eye) return std::nullopt;
  // The patient's right eye is on the left of the picture.
  const Eigen::Vector2d from = sample.right_eye->iris_px;
  const Eigen::Vector2d apart = sample.left_eye->iris_px - from;
  const double iris = (sample.left_eye->iris_major_px + sample.right_eye->iris_major_px) / 2;
  const double distance = apart.norm();
  if (!(iris > 1) || !(distance > kNearestPair * iris && distance < kWidestPair * iris)) {
    return std::nullopt;
  }
  const double width = distance + 2 * kBeside * iris;
  const cv::Size size(std::max(1, cvFloor(width)), std::max(1, cvFloor(kHigh * iris)));
  // From the strip to the picture: level along the line between the eyes, about its middle.
  const Eigen::Vector2d along = apart / distance;
  const Eigen::Vector2d middle = from + apart / 2;
  const double cx = (size.width - 1) / 2.0;
  const double cy = (size.height - 1) / 2.0;
  const cv::Matx23d to_picture(along.x(), -along.y(),
                               middle.x() - along.x() * cx + along.y() * cy,  //
                               along.y(), along.x(), middle.y() - along.y() * cx - along.x() * cy);
  cv::Mat strip;
  cv::warpAffine(bgr, strip, to_picture, size, cv::INTER_LINEAR | cv::WARP_INVERSE_MAP,
                 cv::BORDER_CONSTANT, cv::Scalar::all(128));
  cv::Mat grey;
  cv::cvtColor(strip, grey, cv::COLOR_BGR2GRAY);
  if (grey.cols > kWidest) {
    const double scale = static_cast<double>(kWidest) / grey.cols;
    cv::resize(grey, grey, {kWidest, std::max(1, cvRound(grey.rows * scale))}, 0, 0,
               cv::INTER_AREA);
  }
  std::vector<std::uint8_t> jpeg;
  if (!cv::imencode(".jpg", grey, jpeg, {cv::IMWRITE_JPEG_QUALITY, kQuality})) return std::nullopt;
  return std::string(jpeg.begin(), jpeg.end());
}

}  // namespace nearpoint
