#include "app/window/live_picture.h"

#include <QPainter>
#include <QPainterPath>

#include "app/window/look.h"

namespace nearpoint {

LivePicture::LivePicture(QWidget* parent) : QWidget(parent) {
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
  setMinimumSize(160, 90);
  setAccessibleName(tr("Live picture of you"));
}

void LivePicture::SetImage(const QImage& image) {
  if (image.isNull()) return;
  image_ = image;
  update();
}

void LivePicture::SetWord(const QString& word) {
  word_ = word;
  setAccessibleDescription(word);
  update();
}

void LivePicture::Clear() {
  image_ = QImage();
  update();
}

QSize LivePicture::sizeHint() const { return {480, 270}; }

void LivePicture::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setRenderHint(QPainter::SmoothPixmapTransform);
  QSizeF size = image_.isNull() ? QSizeF(16, 9) : QSizeF(image_.size());
  size.scale(QSizeF(width(), height()), Qt::KeepAspectRatio);
  const QRectF place(QPointF((width() - size.width()) / 2, (height() - size.height()) / 2), size);
  QPainterPath outline;
  outline.addRoundedRect(place, look::Px(14), look::Px(14));
  if (image_.isNull()) {
    painter.fillPath(outline, look::kSoft);
    painter.setFont(look::Body());
    painter.setPen(look::kDeep);
    painter.drawText(place.adjusted(16, 8, -16, -8), Qt::AlignCenter | Qt::TextWordWrap, word_);
    return;
  }
  painter.setClipPath(outline);
  painter.drawImage(place, image_);
}

}  // namespace nearpoint
