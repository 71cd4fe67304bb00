#include "app/window/trace_view.h"

#include <QPainter>
#include <QPainterPath>
#include <algorithm>
#include <cmath>
#include <functional>

#include "app/report/axis.h"
#include "app/window/language.h"
#include "app/window/look.h"

namespace nearpoint {

// A rectangle with an axis each way.
struct TraceView::Panel {
  QRectF place;
  double x_to = 1;
  double y_from = 0, y_to = 1;

  [[nodiscard]] QPointF At(double x, double y) const {
    return {place.left() + x / x_to * place.width(),
            place.bottom() - (y - y_from) / (y_to - y_from) * place.height()};
  }
};

namespace {

using Value = std::function<std::optional<double>(const TracePoint&)>;

// Interrupted where nothing is known.
template <typename PanelType>
void DrawLine(QPainter& painter, const PanelType& panel, const TrialTrace& trace,
              const Value& value) {
  QPainterPath path;
  bool down = false;
  for (const TracePoint& point : trace.points) {
    const auto y = value(point);
    if (!y) {
      down = false;
      continue;
    }
    const QPointF at = panel.At(point.seconds, *y);
    if (down) {
      path.lineTo(at);
    } else {
      path.moveTo(at);
    }
    down = true;
  }
  painter.setBrush(Qt::NoBrush);
  painter.drawPath(path);
}

template <typename PanelType>
void DrawMarks(QPainter& painter, const PanelType& panel, int wanted, double factor) {
  painter.setFont(look::Body());
  for (const double mark : RoundMarks(panel.y_from * factor, panel.y_to * factor, wanted)) {
    const double y = panel.At(0, mark / factor).y();
    painter.setPen(QPen(look::kLine, 1));
    painter.drawLine(QPointF(panel.place.left(), y), QPointF(panel.place.right(), y));
    painter.setPen(look::kQuietInk);
    painter.drawText(QRectF(0, y - 14, panel.place.left() - look::Px(8), 28),
                     Qt::AlignRight | Qt::AlignVCenter, QLocale().toString(mark));
  }
}

}  // namespace

TraceView::TraceView(QWidget* parent) : QWidget(parent) {
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void TraceView::SetClinical(const Seen& seen) {
  clinical_ = true;
  seen_ = seen;
}

void TraceView::SetTrial(const StoredTrial& trial) {
  trial_ = trial.trial;
  trace_ = ParseTrace(trial.track_jsonl);
  setAccessibleName(tr("Course of trial %1").arg(trial_.number));
  QString text;
  if (trial_.break_point) {
    text += tr("Two at %1.").arg(Centimeters(trial_.break_point->value.value.mm())) + ' ';
  }
  if (trial_.recovery) {
    text += tr("One again at %1.").arg(Centimeters(trial_.recovery->value.value.mm())) + ' ';
  }
  text += tr("The camera saw the eyes in %1 % of the pictures.")
              .arg(QLocale().toString(std::lround(100 * trace_.seen_fraction)));
  setAccessibleDescription(text);
  update();
}

QSize TraceView::sizeHint() const { return {look::Px(760), look::Px(420)}; }

void TraceView::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.setPen(QPen(look::kLine, 1));
  painter.setBrush(look::kCard);
  painter.drawRoundedRect(QRectF(rect()).adjusted(1, 1, -1, -1), look::Px(14), look::Px(14));
  if (trace_.points.empty()) {
    painter.setPen(look::kQuietInk);
    painter.setFont(look::Body());
    painter.drawText(rect(), Qt::AlignCenter, tr("There are no pictures of this trial."));
    return;
  }
  const double left = look::Px(64);
  const double wide = width() - left - look::Px(24);
  const double words = look::Px(34);
  const double below = look::Px(48);
  const double room = height() - 2 * words - below - look::Px(28);
  const double seconds = std::max(1.0, trace_.points.back().seconds);
  double far = 100;
  for (const TracePoint& point : trace_.points) far = std::max(far, point.distance_mm.value_or(0));
  double turn = 10;
  double least = 0;
  for (const TracePoint& point : trace_.points) {
    if (clinical_) {
      turn = std::max({turn, point.left_deg.value_or(0), point.right_deg.value_or(0),
                       point.demand_deg.value_or(0) / 2});
      least = std::min({least, point.left_deg.value_or(0), point.right_deg.value_or(0)});
    } else {
      turn = std::max({turn, point.vergence_deg.value_or(0), point.demand_deg.value_or(0)});
    }
  }
  const Panel upper{QRectF(left, words + look::Px(8), wide, room * 0.58), seconds, 0, far * 1.05};
  const Panel lower{QRectF(left, upper.place.bottom() + words + look::Px(12), wide, room * 0.42),
                    seconds, least * 1.1, turn * 1.1};
  PaintDistance(painter, upper);
  PaintTurn(painter, lower);
  if (clinical_) PaintSeen(painter, lower);
  PaintTime(painter, lower);
}

void TraceView::PaintDistance(QPainter& painter, const Panel& panel) const {
  painter.setFont(look::Body());
  painter.setPen(look::kInk);
  painter.drawText(QRectF(panel.place.left(), panel.place.top() - look::Px(32), panel.place.width(),
                          look::Px(28)),
                   Qt::AlignLeft | Qt::AlignVCenter, tr("Distance, cm"));
  DrawMarks(painter, panel, 4, 0.1);
  painter.setPen(QPen(look::kDeep, 2));
  DrawLine(painter, panel, trace_, [](const TracePoint& p) { return p.distance_mm; });
  const auto mark = [&](const std::optional<EventDistance>& event, bool down, const QString& text) {
    if (!event) return;
    const double seconds = (ToMilliseconds(event->time) - trace_.first_ms) / 1000;
    const QPointF at = panel.At(seconds, event->value.value.mm());
    const double size = look::Px(8) * (down ? 1 : -1);
    painter.setPen(QPen(look::kInk, 2));
    painter.setBrush(down ? look::kInk : look::kCard);
    // Above the line and pointing at it: "two" filled, "one again" open.
    const QPointF tip = at - QPointF(0, look::Px(3));
    const double base = std::abs(size) * 1.7;
    painter.drawPolygon(QPolygonF(
        {tip, tip + QPointF(-std::abs(size), -base), tip + QPointF(std::abs(size), -base)}));
    // "Two" to the left and "one again" to the right: they are never far apart.
    const double room = QFontMetricsF(painter.font()).horizontalAdvance(text);
    const double aside = std::abs(size) + look::Px(6);
    const double x = std::clamp(down ? at.x() - aside - room : at.x() + aside, panel.place.left(),
                                std::max(panel.place.left(), panel.place.right() - room));
    // Below the line, which falls to the one and rises from the other.
    painter.drawText(QPointF(x, at.y() + QFontMetricsF(painter.font()).ascent() + look::Px(4)),
                     text);
  };
  if (trial_.break_point) {
    mark(trial_.break_point, true,
         tr("two %1").arg(Centimeters(trial_.break_point->value.value.mm())));
  }
  if (trial_.recovery) {
    mark(trial_.recovery, false, tr("one %1").arg(Centimeters(trial_.recovery->value.value.mm())));
  }
}

void TraceView::PaintTurn(QPainter& painter, const Panel& panel) const {
  painter.setFont(look::Body());
  painter.setPen(look::kInk);
  painter.drawText(QRectF(panel.place.left(), panel.place.top() - look::Px(32), panel.place.width(),
                          look::Px(28)),
                   Qt::AlignLeft | Qt::AlignVCenter,
                   clinical_ ? tr("Each eye turned in, degrees")
                             : tr("Eyes turned in, degrees; dashed: asked for"));
  DrawMarks(painter, panel, 3, 1);
  painter.setPen(QPen(look::kQuietInk, 1.6, Qt::DashLine));
  const double share = clinical_ ? 0.5 : 1;
  DrawLine(painter, panel, trace_, [share](const TracePoint& p) {
    return p.demand_deg ? std::optional(*p.demand_deg * share) : std::nullopt;
  });
  if (clinical_) {
    painter.setPen(QPen(look::kDeep, 2));
    DrawLine(painter, panel, trace_, [](const TracePoint& p) { return p.left_deg; });
    painter.setPen(QPen(look::kWarm, 2.4, Qt::DotLine));
    DrawLine(painter, panel, trace_, [](const TracePoint& p) { return p.right_deg; });
    return;
  }
  painter.setPen(QPen(look::kWarm, 2));
  DrawLine(painter, panel, trace_, [](const TracePoint& p) { return p.vergence_deg; });
}

// A filled diamond where the eyes left the target, an open one where they came back.
void TraceView::PaintSeen(QPainter& painter, const Panel& panel) const {
  const auto mark = [&](const std::optional<Time>& time, bool filled) {
    if (!time) return;
    const double x = panel.At((ToMilliseconds(*time) - trace_.first_ms) / 1000, panel.y_from).x();
    if (x < panel.place.left() || x > panel.place.right()) return;
    const double r = look::Px(7);
    const QPointF at(x, panel.place.top() + r);
    painter.setPen(QPen(look::kInk, 1.2, Qt::DotLine));
    painter.drawLine(at, QPointF(x, panel.place.bottom()));
    painter.setPen(QPen(look::kInk, 2));
    painter.setBrush(filled ? look::kInk : look::kCard);
    painter.drawPolygon(QPolygonF(
        {at + QPointF(-r, 0), at + QPointF(0, -r), at + QPointF(r, 0), at + QPointF(0, r)}));
  };
  mark(seen_.left, true);
  mark(seen_.back, false);
}

void TraceView::PaintTime(QPainter& painter, const Panel& panel) const {
  painter.setPen(look::kQuietInk);
  for (const double mark : RoundMarks(0, panel.x_to, 6)) {
    const double x = panel.At(mark, 0).x();
    painter.drawText(QRectF(x - 40, panel.place.bottom() + look::Px(2), 80, look::Px(26)),
                     Qt::AlignCenter, QLocale().toString(mark));
  }
  painter.drawText(QRectF(panel.place.left(), panel.place.bottom() + look::Px(22),
                          panel.place.width(), look::Px(26)),
                   Qt::AlignRight | Qt::AlignVCenter, tr("seconds"));
}

}  // namespace nearpoint
