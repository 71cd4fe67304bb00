// Pictures of two eyes as JPEG, drawn: for tests of what keeps and shows them.
#pragma once

#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <string>
#include <vector>

namespace nearpoint {

// outward: how far the right eye has drifted, in pixels.
inline std::string EyeJpeg(int outward, int width = 320, int height = 66, bool grey = true) {
  cv::Mat picture(height, width, grey ? CV_8UC1 : CV_8UC3, cv::Scalar::all(178));
  for (const int side : {-1, 1}) {
    const cv::Point socket(width / 2 + side * width * 33 / 100, height / 2);
    const cv::Size opening(width * 15 / 100, height * 26 / 100);
    cv::Mat eye = picture.clone();
    cv::ellipse(eye, socket, opening, 0, 0, 360, cv::Scalar::all(225), cv::FILLED, cv::LINE_AA);
    const cv::Point iris(socket.x - side * width * 2 / 100 - (side < 0 ? outward : 0), socket.y);
    cv::circle(eye, iris, height * 30 / 100, cv::Scalar::all(95), cv::FILLED, cv::LINE_AA);
    cv::circle(eye, iris, height * 12 / 100, cv::Scalar::all(25), cv::FILLED, cv::LINE_AA);
    cv::Mat inside(picture.size(), CV_8UC1, cv::Scalar(0));
    cv::ellipse(inside, socket, opening, 0, 0, 360, cv::Scalar(255), cv::FILLED);
    eye.copyTo(picture, inside);
    cv::ellipse(picture, socket, opening, 0, 180, 360, cv::Scalar::all(60), 2, cv::LINE_AA);
  }
  cv::GaussianBlur(picture, picture, {}, 0.7);
  std::vector<std::uint8_t> jpeg;
  cv::imencode(".jpg", picture, jpeg, {cv::IMWRITE_JPEG_QUALITY, 85});
  return {jpeg.begin(), jpeg.end()};
}

}  // namespace nearpoint
