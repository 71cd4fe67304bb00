#include "app/event_qr/qr_code.h"

#include <ZXing/ReadBarcode.h>

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
  cv::Mat grey = picture;
  if (picture.channels() == 3) cv::cvtColor(picture, grey, cv::COLOR_BGR2GRAY);
  const ZXing::ImageView view(grey.data, grey.cols, grey.rows, ZXing::ImageFormat::Lum,
                              static_cast<int>(grey.step));
  const auto hints =
      ZXing::DecodeHints().setFormats(ZXing::BarcodeFormat::QRCode).setTryHarder(true);
  const ZXing::Result code = ZXing::ReadBarcode(view, hints);
  if (!code.isValid()) return std::nullopt;
  std::string text;
  for (const wchar_t letter : code.text()) {
    // A wristband has plain letters; anything else is none.
    if (letter < L' ' || letter > L'~') return std::nullopt;
    text += static_cast<char>(letter);
  }
  return text;
}

}  // namespace nearpoint
