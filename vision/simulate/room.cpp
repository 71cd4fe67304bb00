#include <opencv2/imgproc.hpp>

#include "vision/simulate/random.h"
#include "vision/simulate/renderer.h"

namespace nearpoint::simulate {

cv::Mat PaintRoom(cv::Size size, std::uint64_t seed) {
  Random random(seed, 51);
  cv::Mat room(size, CV_8UC3);
  const double warm = random.Uniform(-10, 10);
  const double base = random.Uniform(105, 150);
  for (int y = 0; y < size.height; ++y) {
    for (int x = 0; x < size.width; ++x) {
      const double fall = 1 - 0.18 * x / size.width - 0.12 * y / size.height;
      room.at<cv::Vec3b>(y, x) = {cv::saturate_cast<uchar>((base - warm) * fall),
                                  cv::saturate_cast<uchar>(base * fall),
                                  cv::saturate_cast<uchar>((base + warm) * fall)};
    }
  }
  const double w = size.width;
  const double h = size.height;
  const auto block = [&](double x, double y, double bw, double bh, const cv::Scalar& colour) {
    cv::rectangle(room, cv::Point(static_cast<int>(x * w), static_cast<int>(y * h)),
                  cv::Point(static_cast<int>((x + bw) * w), static_cast<int>((y + bh) * h)), colour,
                  cv::FILLED);
  };
  const auto grey = [&](double low, double high) {
    const double v = random.Uniform(low, high);
    return cv::Scalar(v + random.Uniform(-14, 14), v + random.Uniform(-8, 8),
                      v + random.Uniform(-14, 14));
  };
  // A door or a window, a shelf with books, a picture, a skirting.
  const bool door_left = random.Uniform() < 0.5;
  block(door_left ? 0.03 : 0.78, 0.08, 0.17, 1, grey(70, 185));
  block(door_left ? 0.05 : 0.80, 0.12, 0.13, 0.4, grey(90, 200));
  const double shelf_x = door_left ? 0.62 : 0.04;
  block(shelf_x, 0.1, 0.33, 0.62, grey(45, 95));
  for (int shelf = 0; shelf < 3; ++shelf) {
    double x = shelf_x + 0.01;
    while (x < shelf_x + 0.30) {
      const double thick = random.Uniform(0.008, 0.025);
      const double tall = random.Uniform(0.09, 0.16);
      if (random.Uniform() < 0.85) {
        block(
            x, 0.29 + 0.2 * shelf - tall, thick, tall,
            cv::Scalar(random.Uniform(30, 170), random.Uniform(30, 150), random.Uniform(30, 170)));
      }
      x += thick + random.Uniform(0, 0.008);
    }
  }
  block(random.Uniform(0.3, 0.42), random.Uniform(0.05, 0.2), 0.14, 0.24, grey(60, 100));
  block(0, 0.86, 1, 0.02, grey(150, 180));
  block(0, 0.88, 1, 0.12, grey(70, 110));
  cv::GaussianBlur(room, room, {}, 0.0045 * w);
  return room;
}

}  // namespace nearpoint::simulate
