#include "app/window/clinic/time_line_view.h"

#include <QLocale>
#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <map>

#include "app/report/axis.h"
#include "app/window/clinic/clinic_words.h"
#include "app/window/language.h"
#include "app/window/look.h"

namespace nearpoint {
namespace {

double Number(Day day) { return static_cast<double>(day.time_since_epoch().count()); }

}  // namespace

TimeLineView::TimeLineView(TimeLine line, std::vector<ExerciseDay> exercise,
                           std::vector<Day> measure_on, QWidget* parent)
    : QWidget(parent),
      line_(std::move(line)),
      exercise_(std::move(exercise)),
      measure_on_(std::move(measure_on)) {
  setObjectName("time_line");
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  std::vector<double> days;
  for (const TimePoint& point : line_.points) days.push_back(point.day);
  for (const ExerciseDay& day : exercise_) days.push_back(Number(day.entry.day));
  for (const Day day : measure_on_) days.push_back(Number(day));
  if (!days.empty()) {
    const auto [low, high] = std::ranges::minmax_element(days);
    const double margin = std::max(2.0, (*high - *low) * 0.04);
    first_day_ = *low - margin;
    last_day_ = *high + margin;
  }
  farthest_mm_ = std::max(80.0, line_.cut_off.mm() * 1.3);
  for (const TimePoint& point : line_.points) {
    if (point.band) farthest_mm_ = std::max(farthest_mm_, point.band->high.value_or(0) * 1.08);
  }
  setAccessibleName(tr("Near point over time"));
  QStringList points;
  for (const TimePoint& point : line_.points) points << words::BandText(point.band);
  setAccessibleDescription(words::CourseSentence(line_) + ' ' + points.join("; "));
}

QSize TimeLineView::sizeHint() const { return {look::Px(900), look::Art(380) + look::Px(40)}; }

double TimeLineView::X(double day) const {
  return place_.left() + (day - first_day_) / (last_day_ - first_day_) * place_.width();
}
double TimeLineView::Y(double mm) const {
  return place_.bottom() - std::min(mm, farthest_mm_) / farthest_mm_ * place_.height();
}

void TimeLineView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(QPen(look::kLine, 1));
  painter.setBrush(look::kCard);
  painter.drawRoundedRect(QRectF(rect()).adjusted(1, 1, -1, -1), look::Px(14), look::Px(14));
  const double below = QFontMetricsF(look::Body()).height() + look::Px(54);
  place_ =
      QRectF(look::Px(64), look::Px(44), width() - look::Px(88), height() - below - look::Px(44));
  PaintNorms(painter);
  PaintAxes(painter);
  PaintCourse(painter);
  PaintPoints(painter);
  PaintExercise(painter);
  // On top of everything and at the left, where a near point that comes nearer is still far away.
  painter.setFont(look::Body());
  painter.setPen(look::kInk);
  painter.drawText(QRectF(place_.left() + look::Px(6), Y(line_.cut_off.mm()) + look::Px(2),
                          place_.width(), look::Px(28)),
                   Qt::AlignLeft | Qt::AlignVCenter,
                   tr("limit %1").arg(Centimeters(line_.cut_off.mm())));
}

void TimeLineView::PaintNorms(QPainter& painter) const {
  painter.setFont(look::Body());
  if (line_.mean && line_.mean->sd) {
    const double low = Y((line_.mean->mean - *line_.mean->sd).mm());
    const double high = Y((line_.mean->mean + *line_.mean->sd).mm());
    painter.setPen(Qt::NoPen);
    painter.setBrush(look::kPaper);
    painter.drawRect(QRectF(place_.left(), high, place_.width(), low - high));
    painter.setPen(QPen(look::kQuietInk, 1, Qt::DotLine));
    painter.drawLine(QPointF(place_.left(), Y(line_.mean->mean.mm())),
                     QPointF(place_.right(), Y(line_.mean->mean.mm())));
  }
  const double y = Y(line_.cut_off.mm());
  painter.setPen(QPen(look::kInk, 1.6, Qt::DashLine));
  painter.drawLine(QPointF(place_.left(), y), QPointF(place_.right(), y));
}

void TimeLineView::PaintAxes(QPainter& painter) const {
  painter.setFont(look::Body());
  painter.setPen(look::kInk);
  painter.drawText(QRectF(look::Px(16), look::Px(8), width() - look::Px(16), look::Px(30)),
                   Qt::AlignLeft | Qt::AlignVCenter, tr("Break, cm from the cornea"));
  painter.setPen(look::kQuietInk);
  for (const double cm : RoundMarks(0, farthest_mm_ / 10, 5)) {
    painter.drawText(QRectF(0, Y(cm * 10) - 16, place_.left() - look::Px(8), 32),
                     Qt::AlignRight | Qt::AlignVCenter, QLocale().toString(cm));
  }
  painter.setPen(QPen(look::kLine, 1));
  painter.drawLine(place_.bottomLeft(), place_.bottomRight());
  // As many dates as there is room for, the first and the last among them.
  const double wide = QFontMetricsF(look::Body()).horizontalAdvance("00.00.0000") + look::Px(18);
  const int count = std::clamp(static_cast<int>(place_.width() / wide), 2, 6);
  painter.setPen(look::kQuietInk);
  const double top = height() - QFontMetricsF(look::Body()).height() - look::Px(10);
  for (int i = 0; i < count; ++i) {
    const double day = first_day_ + (last_day_ - first_day_) * i / (count - 1);
    const Day date{std::chrono::days(static_cast<int>(day))};
    const double x = std::clamp(X(day) - wide / 2, 4.0, width() - wide - 4.0);
    painter.drawText(QRectF(x, top, wide, height() - top - look::Px(6)), Qt::AlignCenter,
                     words::DayText(date));
  }
}

void TimeLineView::PaintCourse(QPainter& painter) const {
  QPolygonF upper;
  QPolygonF lower;
  QPolygonF middle;
  for (const TimePoint& point : line_.points) {
    if (!point.line_mm || !point.line_low_mm || !point.line_high_mm) continue;
    upper << QPointF(X(point.day), Y(*point.line_high_mm));
    lower.prepend(QPointF(X(point.day), Y(*point.line_low_mm)));
    middle << QPointF(X(point.day), Y(*point.line_mm));
  }
  if (middle.size() < 2) return;
  painter.setPen(Qt::NoPen);
  painter.setBrush(look::kSoft);
  painter.drawPolygon(upper + lower);
  painter.setPen(QPen(look::kDeep, 1.6));
  painter.setBrush(Qt::NoBrush);
  painter.drawPolyline(middle);
}

void TimeLineView::PaintPoints(QPainter& painter) const {
  const double r = look::Px(6);
  for (const TimePoint& point : line_.points) {
    if (!point.band) continue;
    const double x = X(point.day);
    const QColor color = point.counted ? look::kDeep : look::kQuietInk;
    painter.setPen(QPen(color, 2));
    const double high = Y(point.band->high.value_or(farthest_mm_));
    painter.drawLine(QPointF(x, Y(point.band->low)), QPointF(x, high));
    painter.drawLine(QPointF(x - r / 2, high), QPointF(x + r / 2, high));
    // Filled: counts in the course; open: it does not. A ring around it: eyes and report disagree.
    painter.setBrush(point.counted ? QBrush(color) : QBrush(look::kCard));
    const double y = Y(point.band->value.value_or(point.band->high.value_or(point.band->low)));
    painter.drawEllipse(QPointF(x, y), r * 0.8, r * 0.8);
    if (point.eyes_disagree) {
      painter.setBrush(Qt::NoBrush);
      painter.setPen(QPen(look::kWarm, 2));
      painter.drawRect(QRectF(x - r * 1.5, y - r * 1.5, r * 3, r * 3));
    }
  }
}

void TimeLineView::PaintExercise(QPainter& painter) const {
  std::map<Day, std::pair<int, int>> done;  // counted, asked
  for (const ExerciseDay& day : exercise_) {
    auto& [counted, asked] = done[day.entry.day];
    counted += day.entry.counted;
    asked = std::max(asked, day.entry.asked);
  }
  const double top = place_.bottom() + look::Px(8);
  const double tall = look::Px(16);
  const double wide =
      std::clamp(place_.width() / (last_day_ - first_day_) * 0.7, 1.5, look::Px(14.0) * 1.0);
  for (const auto& [day, amount] : done) {
    if (amount.first == 0) continue;
    const bool whole = amount.first >= amount.second;
    const double height = whole ? tall : tall / 2;
    painter.setPen(Qt::NoPen);
    painter.setBrush(look::kDeep);
    painter.drawRect(QRectF(X(Number(day)) - wide / 2, top + tall - height, wide, height));
  }
  // When the plan asks for a measurement.
  for (const Day day : measure_on_) {
    const double r = look::Px(5);
    const QPointF at(X(Number(day)), place_.bottom());
    painter.setPen(QPen(look::kInk, 1.6));
    painter.setBrush(look::kCard);
    painter.drawPolygon(QPolygonF(
        {at + QPointF(-r, 0), at + QPointF(0, -r), at + QPointF(r, 0), at + QPointF(0, r)}));
  }
}

}  // namespace nearpoint
