#include "app/window/exercise/week_view.h"

#include <QLocale>
#include <QPainter>
#include <algorithm>

#include "app/window/exercise/days.h"
#include "app/window/look.h"

namespace nearpoint {
namespace {

constexpr double kCell = 44;

void DrawDay(QPainter& painter, const QRectF& cell, const DiaryDay& day, bool today) {
  const double inset = cell.width() * 0.08;
  const QRectF box = cell.adjusted(inset, inset, -inset, -inset);
  const double round = box.width() * 0.22;
  painter.setPen(QPen(today ? look::kWarm : look::kLine, today ? 2.5 : 1.2));
  painter.setBrush(day.mark == DayMark::kDone   ? QBrush(look::kDeep)
                   : day.mark == DayMark::kPart ? QBrush(look::kSoft)
                   : day.mark == DayMark::kNone ? QBrush(look::kCard)
                                                : QBrush(Qt::NoBrush));
  if (day.mark != DayMark::kNotAsked || today) painter.drawRoundedRect(box, round, round);
  painter.setPen(QPen(day.mark == DayMark::kDone ? QColor(Qt::white) : look::kDeep,
                      box.width() * 0.09, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  const QPointF c = box.center() + QPointF(0, box.height() * 0.12);
  const double u = box.width() * 0.2;
  if (day.mark == DayMark::kDone) {
    painter.drawPolyline(
        QPolygonF({c + QPointF(-u, 0), c + QPointF(-u * 0.2, u * 0.7), c + QPointF(u, -u * 0.7)}));
  } else if (day.mark == DayMark::kPart) {
    painter.drawLine(c + QPointF(-u, 0), c + QPointF(u, 0));
  }
  QFont font = look::Body();
  font.setPointSizeF(font.pointSizeF() * 0.62);
  painter.setFont(font);
  painter.setPen(day.mark == DayMark::kDone       ? QColor(Qt::white)
                 : day.mark == DayMark::kNotAsked ? look::kQuietInk
                                                  : look::kInk);
  painter.drawText(box.adjusted(round * 0.4, 1, -2, 0), Qt::AlignLeft | Qt::AlignTop,
                   QLocale().toString(ToQDate(day.day).day()));
}

}  // namespace

WeekView::WeekView(std::vector<DiaryWeek> weeks, Day today, QWidget* parent)
    : QWidget(parent), weeks_(std::move(weeks)), today_(today) {
  setObjectName("weeks");
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  setAccessibleName(tr("Days of the last weeks"));
  QStringList days;
  for (const DiaryWeek& week : weeks_) {
    for (const DiaryDay& day : week.days) {
      if (day.counted == 0) continue;
      days << tr("%1: %n repetition(s)", nullptr, day.counted)
                  .arg(QLocale().toString(ToQDate(day.day), QLocale::ShortFormat));
    }
  }
  setAccessibleDescription(days.isEmpty() ? tr("Nothing yet.") : days.join("; "));
}

QSize WeekView::sizeHint() const {
  return {look::Px(kCell * 7 + 190), look::Px(kCell * (static_cast<double>(weeks_.size()) + 0.8))};
}
QSize WeekView::minimumSizeHint() const { return {look::Px(200), sizeHint().height()}; }

void WeekView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const double cell = std::min<double>(look::Px(kCell), width() / 10.5);
  painter.setFont(look::Body());
  painter.setPen(look::kQuietInk);
  for (int i = 0; i < 7; ++i) {
    painter.drawText(QRectF(cell * i, 0, cell, look::Px(kCell * 0.75)), Qt::AlignCenter,
                     QLocale().standaloneDayName(i + 1, QLocale::NarrowFormat));
  }
  double y = look::Px(kCell * 0.8);
  for (const DiaryWeek& week : weeks_) {
    for (int i = 0; i < 7; ++i) {
      const DiaryDay& day = week.days[static_cast<std::size_t>(i)];
      DrawDay(painter, {cell * i, y, cell, cell}, day, day.day == today_);
    }
    painter.setFont(look::Body());
    painter.setPen(look::kInk);
    // A week without a day says nothing but its empty squares.
    QString text;
    if (week.wanted > 0 && (week.done > 0 || &week == &weeks_.back())) {
      text = tr("%1 of %n day(s)", nullptr, week.wanted).arg(week.done);
    } else if (week.done > 0) {
      text = tr("%n day(s)", nullptr, week.done);
    }
    painter.drawText(QRectF(cell * 7 + look::Px(14), y, width() - cell * 7 - look::Px(14), cell),
                     Qt::AlignVCenter | Qt::AlignLeft, text);
    y += look::Px(kCell);
  }
}

}  // namespace nearpoint
