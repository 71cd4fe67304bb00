#include "app/event_qr/qr_code.h"

#include <opencv2/imgproc.hpp>
#include <opencv2/objdetect.hpp>

namespace nearpoint {

cv::Mat DrawQrCode(const std::string& text) {
  const cv::Ptr<cv::QRCodeEncoder> encoder = cv::QRCodeEncoder::create();
  cv::Mat code;
  encoder->encode(text, code);
  // Whatever border the encoder gave, the standard's quiet zone is four modules.
  cv::Mat dark;
  cv::threshold(code, dark, 127, 255, cv::THRESH_BINARY_INV);
  const cv::Rect modules = cv::boundingRect(dark);
  constexpr int kQuiet = 4;
  cv::Mat framed;
  cv::copyMakeBorder(code(modules), framed, kQuiet, kQuiet, kQuiet, kQuiet, cv::BORDER_CONSTANT,
                     cv::Scalar(255));
  return framed;
}

std::optional<std::string> ReadQrCode(const cv::Mat& picture) {
  if (picture.empty()) return std::nullopt;
  // The detector throws on some pictures without a code (OpenCV 4.6).
  try {
    cv::QRCodeDetector detector;
    std::string text = detector.detectAndDecode(picture);
    if (!text.empty()) return text;
  } catch (const cv::Exception&) {
    return std::nullopt;
  }
  return std::nullopt;
}

}  // namespace nearpoint
