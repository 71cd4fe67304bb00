#include "app/window/near_point_scale.h"

#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>

#include "app/window/language.h"
#include "app/window/look.h"

namespace nearpoint {
namespace {
constexpr int kEye = 76;       // room for the eye at the left end
constexpr int kBandTop = 104;  // below the words above the band
constexpr int kBandHeight = 46;
}  // namespace

NearPointScale::NearPointScale(const Estimate& estimate, bool show_limit, QWidget* parent)
    : QWidget(parent), estimate_(estimate), show_limit_(show_limit) {
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  double far = std::max(120.0, estimate.cut_off.mm() * 1.5);
  if (const auto& band = estimate.break_mm) {
    far = std::max(far, band->high.value_or(band->low) * 1.15);
  }
  // Beyond the recovery its words must find room.
  if (const auto& back = estimate.recovery_mm; back && back->value) {
    far = std::max(far, *back->value * 1.45);
  }
  farthest_mm_ = std::ceil(std::min(far, 1000.0) / 20) * 20;
  setAccessibleName(tr("Your near point on a scale of distance from the eye"));
  QString text;
  if (estimate.break_mm && estimate.break_mm->value && estimate.break_mm->high) {
    text = tr("Two at %1, band from %2 to %3.")
               .arg(Centimeters(*estimate.break_mm->value), Centimeters(estimate.break_mm->low),
                    Centimeters(*estimate.break_mm->high));
  }
  if (show_limit_) text += ' ' + tr("Usual limit %1.").arg(Centimeters(estimate.cut_off.mm()));
  setAccessibleDescription(text);
}

QSize NearPointScale::sizeHint() const { return {look::Px(760), look::Px(286)}; }

double NearPointScale::X(double mm) const {
  const double left = look::Px(kEye);
  const double right = width() - look::Px(36);
  return left + std::clamp(mm / farthest_mm_, 0.0, 1.0) * (right - left);
}

void NearPointScale::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(QPen(look::kLine, 1));
  painter.setBrush(look::kCard);
  painter.drawRoundedRect(QRectF(rect()).adjusted(1, 1, -1, -1), look::Px(14), look::Px(14));

  const double top = look::Px(kBandTop);
  const double high = look::Px(kBandHeight);
  const double middle = top + high / 2;
  const double axis = top + high + look::Px(26);

  // The eye that looks along the scale.
  const QPointF eye(X(0) - look::Px(20), middle);
  painter.setPen(QPen(look::kInk, look::Px(2)));
  painter.setBrush(look::kCard);
  painter.drawEllipse(eye, look::Px(20), look::Px(20));
  painter.setPen(Qt::NoPen);
  painter.setBrush(look::kDeep);
  painter.drawEllipse(eye + QPointF(look::Px(16), 0), look::Px(5), look::Px(10));

  painter.setFont(look::Body());
  const QFontMetricsF metrics(painter.font());
  painter.setPen(QPen(look::kQuietInk, 1));
  painter.drawLine(QPointF(X(0), axis), QPointF(X(farthest_mm_), axis));
  const double apart = metrics.horizontalAdvance("00.0") * 1.6;
  int step = 10;
  while (X(step) - X(0) < apart && step < 500) step = step == 10 ? 20 : step == 20 ? 50 : step * 2;
  for (int mm = 0; mm <= farthest_mm_; mm += 10) {
    const bool named = mm % step == 0;
    painter.drawLine(QPointF(X(mm), axis), QPointF(X(mm), axis + look::Px(named ? 9 : 5)));
    if (!named) continue;
    painter.drawText(QRectF(X(mm) - 60, axis + look::Px(11), 120, look::Px(26)), Qt::AlignCenter,
                     QLocale().toString(mm / 10));
  }
  // Below the word of the limit: in some languages both are long.
  painter.drawText(QRectF(X(0), axis + look::Px(64), X(farthest_mm_) - X(0), look::Px(28)),
                   Qt::AlignRight | Qt::AlignVCenter, tr("cm from the front of the eye"));

  const auto& band = estimate_.break_mm;
  if (band) {
    const double low = X(band->low);
    const double end = X(band->high.value_or(farthest_mm_));
    painter.setPen(QPen(look::kDeep, 1.5));
    painter.setBrush(look::kSoft);
    painter.drawRoundedRect(QRectF(low, top, std::max(end - low, 4.0), high), look::Px(8),
                            look::Px(8));
    double at = (low + end) / 2;
    if (band->value) {
      at = X(*band->value);
      painter.setPen(QPen(look::kDeep, look::Px(5), Qt::SolidLine, Qt::RoundCap));
      painter.drawLine(QPointF(at, top + look::Px(7)), QPointF(at, top + high - look::Px(7)));
    }
    QFont font = look::Large();
    font.setPointSizeF(font.pointSizeF() * 1.25);
    font.setWeight(QFont::DemiBold);
    painter.setFont(font);
    painter.setPen(look::kDeep);
    const QString text = band->value  ? tr("two at %1").arg(Centimeters(*band->value))
                         : band->high ? tr("one all the way, to %1").arg(Centimeters(*band->high))
                                      : tr("two from the start, at %1").arg(Centimeters(band->low));
    const double wide = QFontMetricsF(font).horizontalAdvance(text) + 8;
    const double x = std::clamp(at - wide / 2, 8.0, std::max(8.0, width() - wide - 8.0));
    painter.drawText(QRectF(x, look::Px(12), wide, look::Px(48)), Qt::AlignCenter, text);
    if (band->value && band->high) {
      const QString sure =
          tr("most likely between %1 and %2").arg(Centimeters(band->low), Centimeters(*band->high));
      painter.setFont(look::Body());
      const double room = metrics.horizontalAdvance(sure) + 8;
      const double from = std::clamp(at - room / 2, 8.0, std::max(8.0, width() - room - 8.0));
      painter.drawText(QRectF(from, look::Px(56), room, look::Px(34)), Qt::AlignCenter, sure);
    }
  }
  const auto& back = estimate_.recovery_mm;
  painter.setFont(look::Body());
  if (back && back->value) {
    // An open ring: told apart by its shape.
    const double x = X(*back->value);
    painter.setPen(QPen(look::kInk, look::Px(3)));
    painter.setBrush(look::kCard);
    painter.drawEllipse(QPointF(x, middle), look::Px(8), look::Px(8));
    const QString text = tr("one again at %1").arg(Centimeters(*back->value));
    const double wide = metrics.horizontalAdvance(text);
    const double room = width() - look::Px(16) - (x + look::Px(14));
    painter.setPen(look::kInk);
    if (wide <= room) {
      painter.drawText(QPointF(x + look::Px(14), middle + metrics.ascent() / 2 - 2), text);
    }
  }
  if (show_limit_) {
    const double x = X(estimate_.cut_off.mm());
    painter.setPen(QPen(look::kWarm, look::Px(2), Qt::DashLine));
    painter.drawLine(QPointF(x, top - look::Px(8)), QPointF(x, axis));
    painter.setPen(look::kWarm);
    const QString text = tr("usual limit %1").arg(Centimeters(estimate_.cut_off.mm()));
    const double wide = metrics.horizontalAdvance(text) + 6;
    const double left = std::clamp(x - wide / 2, 8.0, std::max(8.0, width() - wide - 8.0));
    painter.drawText(QRectF(left, axis + look::Px(36), wide, look::Px(28)), Qt::AlignCenter, text);
  }
}

}  // namespace nearpoint
