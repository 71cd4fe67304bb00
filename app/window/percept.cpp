#include "app/window/percept.h"

#include <QImage>
#include <QPainter>
#include <algorithm>

#include "app/window/look.h"

namespace nearpoint::percept {
namespace {

constexpr const char* kLetter = "a";

QImage LetterImage(int side, double height) {
  QImage image(side, side, QImage::Format_ARGB32_Premultiplied);
  image.fill(Qt::transparent);
  QPainter painter(&image);
  painter.setRenderHint(QPainter::Antialiasing);
  QFont font = look::Body();
  font.setPixelSize(static_cast<int>(height));
  font.setWeight(QFont::DemiBold);
  painter.setFont(font);
  painter.setPen(look::kInk);
  painter.drawText(image.rect(), Qt::AlignCenter, kLetter);
  return image;
}

// Three passes of a running mean: near enough to the soft edge of a blurred letter.
QImage Blurred(QImage image, int radius) {
  for (int pass = 0; pass < 6; ++pass) {
    const bool across = pass % 2 == 0;
    QImage out(image.size(), image.format());
    const int lines = across ? image.height() : image.width();
    const int length = across ? image.width() : image.height();
    const auto at = [&](int line, int i) {
      return across ? image.pixel(i, line) : image.pixel(line, i);
    };
    for (int line = 0; line < lines; ++line) {
      for (int i = 0; i < length; ++i) {
        int sums[4] = {0, 0, 0, 0};
        int count = 0;
        for (int k = std::max(0, i - radius); k <= std::min(length - 1, i + radius); ++k) {
          const QRgb p = at(line, k);
          sums[0] += qRed(p);
          sums[1] += qGreen(p);
          sums[2] += qBlue(p);
          sums[3] += qAlpha(p);
          ++count;
        }
        const QRgb mean = qRgba(sums[0] / count, sums[1] / count, sums[2] / count, sums[3] / count);
        if (across) {
          out.setPixel(i, line, mean);
        } else {
          out.setPixel(line, i, mean);
        }
      }
    }
    image = out;
  }
  return image;
}

}  // namespace

void Draw(QPainter& painter, const QRectF& place, Kind kind, double separation) {
  const int side = static_cast<int>(std::min(place.width(), place.height()));
  const double height = side * 0.75;
  const QImage letter = LetterImage(side, height);
  const QPointF corner(place.center().x() - side / 2.0, place.center().y() - side / 2.0);
  switch (kind) {
    case Kind::kOne:
      painter.drawImage(corner, letter);
      break;
    case Kind::kBlurred:
      painter.drawImage(corner, Blurred(letter, std::max(1, side / 28)));
      break;
    case Kind::kTwo: {
      // Sharp, and each a little pale, as two overlapping sights are.
      const double shift = separation * height / 2;
      painter.save();
      painter.setOpacity(0.8);
      painter.drawImage(corner - QPointF(shift, 0), letter);
      painter.drawImage(corner + QPointF(shift, 0), letter);
      painter.restore();
      break;
    }
  }
}

}  // namespace nearpoint::percept

namespace nearpoint {

PerceptPicture::PerceptPicture(percept::Kind kind, QWidget* parent) : QWidget(parent), kind_(kind) {
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  Name();
}

void PerceptPicture::SetKind(percept::Kind kind, double separation) {
  kind_ = kind;
  separation_ = separation;
  Name();
  update();
}

void PerceptPicture::SetSecret(bool secret) {
  secret_ = secret;
  Name();
}

void PerceptPicture::Name() {
  QString name = tr("A letter");
  if (!secret_) {
    switch (kind_) {
      case percept::Kind::kOne:
        name = tr("One sharp letter");
        break;
      case percept::Kind::kBlurred:
        name = tr("One blurred letter");
        break;
      case percept::Kind::kTwo:
        name = tr("Two sharp letters side by side");
        break;
    }
  }
  setAccessibleName(name);
}

QSize PerceptPicture::sizeHint() const { return {look::Art(150), look::Art(140)}; }

void PerceptPicture::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(QPen(look::kLine, 1));
  painter.setBrush(look::kCard);
  const QRectF all = QRectF(rect()).adjusted(1, 1, -1, -1);
  painter.drawRoundedRect(all, look::Px(14), look::Px(14));
  percept::Draw(painter, all.adjusted(10, 10, -10, -10), kind_, separation_);
}

}  // namespace nearpoint
