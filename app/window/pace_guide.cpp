#include "app/window/pace_guide.h"

#include <QPainter>
#include <algorithm>

#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {
constexpr double kFarMm = 420;
constexpr double kNearMm = 30;
constexpr int kLaneHeight = 62;

// A line of text above or below the lane.
int Row() { return QFontMetrics(look::Body()).height() + 4; }

}  // namespace

PaceGuide::PaceGuide(QWidget* parent) : QWidget(parent) {
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  setAccessibleName(tr("How near you are"));
}

void PaceGuide::SetState(const FlowState& state) {
  state_ = state;
  // Whole centimetres: a screen reader that hears each millimetre says nothing else.
  setAccessibleDescription(state.distance ? Centimeters(state.distance->mm(), 0) : QString());
  update();
}

QSize PaceGuide::sizeHint() const {
  return {look::Px(500), Row() * 3 + look::Art(kLaneHeight) + look::Art(16)};
}

double PaceGuide::PlaceOf(Length distance, const QRectF& lane) const {
  const double part = (kFarMm - std::clamp(distance.mm(), kNearMm, kFarMm)) / (kFarMm - kNearMm);
  return lane.left() + lane.height() / 2 + part * (lane.width() - lane.height());
}

void PaceGuide::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  const QRectF lane(1, Row(), width() - 2.0, look::Art(kLaneHeight));
  const double middle = lane.center().y();
  const bool back = state_.phase == FlowPhase::kReturn;

  painter.setPen(QPen(look::kLine, 1));
  painter.setBrush(look::kCard);
  painter.drawRoundedRect(lane, lane.height() / 2, lane.height() / 2);

  // Which way to go: quiet arrows along the lane.
  painter.setPen(QPen(look::kLine, look::Art(3), Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
  const double tip = look::Art(7) * (back ? -1 : 1);
  for (double x = lane.left() + lane.height() * 1.4; x < lane.right() - lane.height() * 1.2;
       x += look::Art(58)) {
    const QPointF at(x, middle);
    painter.drawPolyline(QPolygonF({at + QPointF(-tip, -look::Art(9)), at + QPointF(tip, 0),
                                    at + QPointF(-tip, look::Art(9))}));
  }

  painter.setFont(look::Body());
  painter.setPen(look::kQuietInk);
  painter.drawText(QRectF(lane.left(), 0, lane.width() / 2, Row()),
                   Qt::AlignLeft | Qt::AlignVCenter, tr("far"));
  // The number stands where the words are once it comes near an end.
  const double room = QFontMetricsF(painter.font()).horizontalAdvance(Centimeters(400, 0)) / 2 +
                      QFontMetricsF(painter.font()).horizontalAdvance(tr("near")) + 12;
  if (!state_.distance || PlaceOf(*state_.distance, lane) < lane.right() - room) {
    painter.drawText(QRectF(lane.center().x(), 0, lane.width() / 2, Row()),
                     Qt::AlignRight | Qt::AlignVCenter, tr("near"));
  }

  const double radius = lane.height() / 2 - look::Art(8);
  if (state_.companion) {
    // Kept apart by its shape: an open ring to stay beside.
    const double x = PlaceOf(*state_.companion, lane);
    painter.setPen(QPen(look::kDeep, look::Art(3), Qt::DotLine));
    painter.setBrush(Qt::NoBrush);
    painter.drawEllipse(QPointF(x, middle), radius + look::Art(4), radius + look::Art(4));
  }
  if (state_.distance) {
    const double x = PlaceOf(*state_.distance, lane);
    const bool care = state_.pace.verdict == PaceVerdict::kTooFast;
    painter.setPen(Qt::NoPen);
    painter.setBrush(care ? look::kWarm : look::kDeep);
    painter.drawEllipse(QPointF(x, middle), radius, radius);
    painter.setBrush(Qt::white);
    painter.drawEllipse(QPointF(x, middle), radius * 0.62, radius * 0.4);
    painter.setBrush(care ? look::kWarm : look::kDeep);
    painter.drawEllipse(QPointF(x, middle), radius * 0.24, radius * 0.24);
    painter.setPen(look::kInk);
    painter.drawText(QRectF(x - look::Px(80), 0, look::Px(160), Row()), Qt::AlignCenter,
                     Centimeters(state_.distance->mm(), 0));
  }

  const words::PaceWord word = words::ForPace(state_.phase, state_.pace.verdict);
  if (!word.word.isEmpty()) {
    const bool good = state_.pace.verdict == PaceVerdict::kGood;
    QFont font = look::Large();
    font.setPointSizeF(std::min(font.pointSizeF() * 1.35, 34.0));
    font.setWeight(QFont::DemiBold);
    painter.setFont(font);
    painter.setPen(good ? look::kDeep : look::kWarm);
    painter.drawText(QRectF(0, lane.bottom() + look::Art(10), width(), 2 * Row()),
                     Qt::AlignHCenter | Qt::AlignTop, word.sign + "  " + word.word);
  }
}

}  // namespace nearpoint
