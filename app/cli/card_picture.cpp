#include "app/cli/card_picture.h"

#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "app/event_qr/qr_code.h"
#include "app/exchange/bytes.h"
#include "app/records/atomic_file.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

// Empty where it is no picture.
cv::Mat PictureOf(const std::string& content) {
  if (content.empty()) return {};
  const cv::Mat bytes(1, static_cast<int>(content.size()), CV_8UC1,
                      const_cast<char*>(content.data()));
  try {
    return cv::imdecode(bytes, cv::IMREAD_GRAYSCALE);
  } catch (const cv::Exception&) {  // a size beyond OpenCV's limit
    return {};
  }
}

}  // namespace

Result<Card> CardInFile(const std::string& file) {
  const auto content = ReadTextFile(file);
  if (!content) return tl::unexpected(content.error());
  auto card = ParseCard(*content);
  if (card) return card;
  const cv::Mat picture = PictureOf(*content);
  if (picture.empty()) return Fail(card.error().code, file + ": " + card.error().message);
  const auto text = ReadQrCode(picture);
  if (!text) {
    return Fail(ErrorCode::kNotFound, file +
                                          ": no QR code can be read in this picture; expected the "
                                          "whole code, sharp, from straight ahead.");
  }
  card = ParseCard(*text);
  if (!card) return Fail(card.error().code, file + ": its QR code: " + card.error().message);
  return card;
}

Result<void> WriteCardPicture(const std::string& file, const Card& card) {
  constexpr int kModule = 10;  // pixels: sharp on a screen and on paper
  cv::Mat large;
  cv::resize(DrawQrCode(ToText(card)), large, {}, kModule, kModule, cv::INTER_NEAREST);
  std::vector<std::uint8_t> png;
  cv::imencode(".png", large, png);
  return WriteFileAtomically(file, TextOf(png));
}

}  // namespace nearpoint
