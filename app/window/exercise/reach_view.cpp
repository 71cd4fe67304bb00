#include "app/window/exercise/reach_view.h"

#include <QLocale>
#include <QPainter>
#include <algorithm>
#include <cmath>

#include "app/window/exercise/days.h"
#include "app/window/language.h"
#include "app/window/look.h"

namespace nearpoint {
namespace {

constexpr double kStepsMm[] = {10, 20, 50, 100};
constexpr double kMostLines = 6;

QString DateText(Day day) { return QLocale().toString(ToQDate(day), QLocale::ShortFormat); }

}  // namespace

ReachView::ReachView(ReachCourse course, QWidget* parent)
    : QWidget(parent), course_(std::move(course)) {
  setObjectName("reach");
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  setAccessibleName(tr("Nearest pair held, day by day"));
  QStringList points;
  for (const ReachPoint& p : course_.points) {
    points << QString("%1: %2").arg(DateText(p.day), Centimeters(p.mm));
  }
  setAccessibleDescription(points.join("; "));
}

QSize ReachView::sizeHint() const { return {look::Px(520), look::Px(240)}; }
QSize ReachView::minimumSizeHint() const { return {look::Px(200), look::Px(240)}; }

void ReachView::paintEvent(QPaintEvent*) {
  if (course_.points.empty()) return;
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  QFont font = look::Body();
  font.setPointSizeF(font.pointSizeF() * 0.8);
  painter.setFont(font);
  double top_mm = 0;
  for (const ReachPoint& p : course_.points) top_mm = std::max(top_mm, p.band.high.value_or(p.mm));
  double step = kStepsMm[0];
  for (const double s : kStepsMm) {
    step = s;
    if (top_mm / s <= kMostLines) break;
  }
  top_mm = std::ceil(top_mm / step) * step;

  const QFontMetrics metrics(font);
  const double left = metrics.horizontalAdvance(Centimeters(top_mm, 0)) + look::Px(12);
  const double bottom = metrics.height() + look::Px(8);
  const QRectF plot(left, look::Px(8), width() - left - look::Px(30),
                    height() - bottom - look::Px(16));
  const auto y_of = [&](double mm) { return plot.bottom() - mm / top_mm * plot.height(); };
  for (double mm = 0; mm <= top_mm + 0.5; mm += step) {
    painter.setPen(QPen(look::kLine, 1));
    painter.drawLine(QPointF(plot.left(), y_of(mm)), QPointF(plot.right(), y_of(mm)));
    painter.setPen(look::kQuietInk);
    painter.drawText(
        QRectF(0, y_of(mm) - metrics.height() / 2.0, left - look::Px(8), metrics.height()),
        Qt::AlignRight | Qt::AlignVCenter, Centimeters(mm, 0));
  }
  const Day first = course_.points.front().day;
  const double span = std::max<double>(1, (course_.points.back().day - first).count());
  const bool one = course_.points.size() == 1;
  const auto x_of = [&](Day day) {
    return one ? plot.center().x()
               : plot.left() + look::Px(10) +
                     (plot.width() - look::Px(20)) * (day - first).count() / span;
  };
  for (const ReachPoint& p : course_.points) {
    const double x = x_of(p.day);
    painter.setPen(QPen(look::kDeep, look::Px(2), Qt::SolidLine, Qt::RoundCap));
    painter.drawLine(QPointF(x, y_of(p.band.low)), QPointF(x, y_of(p.band.high.value_or(p.mm))));
    painter.setBrush(look::kCard);
    painter.drawEllipse(QPointF(x, y_of(p.mm)), look::Px(4.5), look::Px(4.5));
  }
  painter.setPen(look::kQuietInk);
  const double text_y = height() - bottom;
  painter.drawText(QRectF(plot.left(), text_y, plot.width() / 2, bottom),
                   Qt::AlignLeft | Qt::AlignVCenter, DateText(first));
  if (!one) {
    painter.drawText(QRectF(plot.center().x(), text_y, plot.width() / 2 + look::Px(20), bottom),
                     Qt::AlignRight | Qt::AlignVCenter, DateText(course_.points.back().day));
  }
}

}  // namespace nearpoint
