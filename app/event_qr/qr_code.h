// QR codes (ISO/IEC 18004): drawn with OpenCV, read with ZXing-C++, since Debian builds OpenCV
// without the library (quirc) that its own reader needs.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>

namespace nearpoint {

// One pixel a module, with a quiet zone of four; 0 black, 255 white.
[[nodiscard]] cv::Mat DrawQrCode(const std::string& text);

// The text of the one code in the picture: grey or BGR, 8 bits, as a camera sees it and not as a
// mirror shows it. nullopt: none was found, or it could not be read.
[[nodiscard]] std::optional<std::string> ReadQrCode(const cv::Mat& picture);

}  // namespace nearpoint
