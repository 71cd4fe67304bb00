#include "app/event_qr/qr_code.h"

#include <gtest/gtest.h>

#include <opencv2/imgproc.hpp>

#include "app/event_qr/wristband.h"

namespace nearpoint {
namespace {

const std::string kEvent = "1a2b3c4d-0000-4000-8000-000000000000";

// The code as a camera sees it: so many pixels a module, turned, soft, noisy, on a grey ground.
cv::Mat Seen(const std::string& text, double module_px, double turn_deg, double blur_px) {
  const cv::Mat code = DrawQrCode(text);
  cv::Mat large;
  cv::resize(code, large, {}, module_px, module_px, cv::INTER_NEAREST);
  cv::Mat picture(360, 640, CV_8UC1, cv::Scalar(150));
  const cv::Point2f middle(static_cast<float>(large.cols) / 2, static_cast<float>(large.rows) / 2);
  cv::Mat turn = cv::getRotationMatrix2D(middle, turn_deg, 1);
  turn.at<double>(0, 2) += 320 - middle.x;
  turn.at<double>(1, 2) += 180 - middle.y;
  cv::warpAffine(large, picture, turn, picture.size(), cv::INTER_LINEAR, cv::BORDER_TRANSPARENT);
  if (blur_px > 0) cv::GaussianBlur(picture, picture, {}, blur_px);
  cv::Mat noise(picture.size(), CV_16SC1);
  cv::theRNG().state = 7;
  cv::randn(noise, 0, 6);
  cv::add(picture, noise, picture, cv::noArray(), CV_8UC1);
  return picture;
}

// Drawn by one library, read by another.
TEST(QrCodeTest, WhatIsDrawnIsRead) {
  const std::string text = WristbandText(kEvent, "127");
  for (const double turn : {0.0, 15.0, 90.0, 200.0}) {
    EXPECT_EQ(ReadQrCode(Seen(text, 5, turn, 0.8)), text) << turn;
  }
  EXPECT_EQ(ReadQrCode(Seen(text, 3, 5, 0.5)), text);
}

// The card of a clinic on a screen, before a camera: 108 letters, small and capital.
TEST(QrCodeTest, ALongTextIsReadToo) {
  const std::string text =
      "nearpoint-card-1:PUAXw-hDiVqStwqnTRt-vJyYLM8uxJaMwM1V8Sr0ZgwDoQeQYMKxWgOZDLd4aTwhLf4X7aB-"
      "5Hw_"
      "2cPqZ9xY7kQWE3Ab";
  EXPECT_EQ(ReadQrCode(DrawQrCode(text)), text);
  for (const double turn : {0.0, 8.0, 180.0}) {
    EXPECT_EQ(ReadQrCode(Seen(text, 5, turn, 0.8)), text) << turn;
  }
}

TEST(QrCodeTest, NothingIsReadWhereNothingIs) {
  EXPECT_EQ(ReadQrCode(cv::Mat()), std::nullopt);
  EXPECT_EQ(ReadQrCode(cv::Mat(360, 640, CV_8UC1, cv::Scalar(128))), std::nullopt);
  cv::Mat noise(360, 640, CV_8UC1);
  cv::theRNG().state = 3;
  cv::randu(noise, 0, 255);
  EXPECT_EQ(ReadQrCode(noise), std::nullopt);
  // Too small to tell its modules apart.
  EXPECT_EQ(ReadQrCode(Seen("NP:1A2B3C4D:5", 0.6, 0, 1)), std::nullopt);
}

TEST(QrCodeTest, TheQuietZoneIsFourModules) {
  const cv::Mat code = DrawQrCode("NP:1A2B3C4D:5");
  EXPECT_EQ(code.rows, code.cols);
  EXPECT_EQ((code.rows - 8) % 4, 1);  // 21, 25, 29... modules
  EXPECT_EQ(cv::countNonZero(code.rowRange(0, 4)), 4 * code.cols);
  EXPECT_EQ(code.at<uchar>(4, 4), 0);
}

TEST(WristbandTest, KnowsItsEvent) {
  const auto band = ReadWristband(WristbandText(kEvent, "A-12"), kEvent);
  ASSERT_TRUE(band);
  EXPECT_EQ(band->number, "A-12");
  EXPECT_TRUE(band->of_this_event);
  EXPECT_FALSE(ReadWristband(WristbandText("ffffffff-1", "3"), kEvent)->of_this_event);
  for (const char* text : {"", "12", "NP:", "NP:1A2B3C4D", "NP:1A2B3C4D:", "https://example.org"}) {
    EXPECT_FALSE(ReadWristband(text, kEvent)) << text;
  }
}

}  // namespace
}  // namespace nearpoint
