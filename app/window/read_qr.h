// The text of the one QR code in a picture of the window.
#pragma once

#include <QImage>
#include <QString>
#include <optional>

namespace nearpoint {

// As a camera sees it, not as a mirror shows it; nullopt where none can be read.
[[nodiscard]] std::optional<QString> ReadQr(const QImage& picture);
// Of the live preview, which is mirrored.
[[nodiscard]] inline std::optional<QString> ReadMirroredQr(const QImage& preview) {
  return preview.isNull() ? std::nullopt : ReadQr(preview.mirrored(true, false));
}

// The code of that text, with its quiet zone, at least so many pixels wide and high: each module is
// a whole number of pixels.
[[nodiscard]] QImage DrawQr(const QString& text, int pixels);

}  // namespace nearpoint
