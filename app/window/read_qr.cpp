#include "app/window/read_qr.h"

#include <algorithm>

#include "app/event_qr/qr_code.h"

namespace nearpoint {

std::optional<QString> ReadQr(const QImage& picture) {
  if (picture.isNull()) return std::nullopt;
  const QImage grey = picture.convertToFormat(QImage::Format_Grayscale8);
  const cv::Mat pixels(grey.height(), grey.width(), CV_8UC1, const_cast<uchar*>(grey.constBits()),
                       static_cast<std::size_t>(grey.bytesPerLine()));
  const auto text = ReadQrCode(pixels);
  if (!text) return std::nullopt;
  return QString::fromStdString(*text);
}

QImage DrawQr(const QString& text, int pixels) {
  const cv::Mat code = DrawQrCode(text.toStdString());
  const QImage small(code.data, code.cols, code.rows, static_cast<qsizetype>(code.step),
                     QImage::Format_Grayscale8);
  const int module = std::max(1, (pixels + code.cols - 1) / code.cols);
  return small.scaled(code.cols * module, code.rows * module, Qt::KeepAspectRatio,
                      Qt::FastTransformation);
}

}  // namespace nearpoint
