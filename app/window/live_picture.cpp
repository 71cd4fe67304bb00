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

void LivePicture::SetOutline(const QPolygonF& shares) {
  if (outline_ == shares) return;
  outline_ = shares;
  update();
}

void LivePicture::SetWantedPart(int part) {
  if (wanted_part_ == part) return;
  wanted_part_ = part;
  update();
}

void LivePicture::Clear() {
  image_ = QImage();
  outline_.clear();
  wanted_part_ = -1;
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
  painter.setBrush(Qt::NoBrush);
  const auto both = [&](const QColor& inner, Qt::PenStyle style, const auto& draw) {
    painter.setPen(QPen(look::kInk, look::Px(5)));  // seen on light ground
    draw();
    painter.setPen(QPen(inner, look::Px(3), style));  // and on dark
    draw();
  };
  if (wanted_part_ >= 0) {
    const double w = place.width() / 3;
    const double h = place.height() / 3;
    const int row = wanted_part_ / 3;
    const QRectF part(place.left() + (2 - wanted_part_ % 3) * w, place.top() + row * h, w, h);
    both(look::kWarmSoft, Qt::DashLine,
         [&] { painter.drawRoundedRect(part.adjusted(8, 8, -8, -8), look::Px(8), look::Px(8)); });
  }
  if (!outline_.isEmpty()) {
    QPolygonF polygon;
    for (const QPointF& at : outline_) {
      polygon << QPointF(place.left() + (1 - at.x()) * place.width(),
                         place.top() + at.y() * place.height());
    }
    both(look::kCard, Qt::SolidLine, [&] { painter.drawPolygon(polygon); });
  }
}

}  // namespace nearpoint
