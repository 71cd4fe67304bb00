#include "app/window/exercise/pair_stage.h"

#include <QPainter>

#include "app/print/pair_figure.h"
#include "app/window/look.h"

namespace nearpoint {

PairStage::PairStage(QWidget* parent) : QWidget(parent) {
  setObjectName("stage");
  setMinimumHeight(150);
  setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
  Name();
}

void PairStage::SetPair(int separation_dots, double figure_dots) {
  separation_dots_ = separation_dots;
  figure_dots_ = figure_dots;
  // The marks reach beyond the figure; a little ground is left around them.
  const double points = figure_dots / devicePixelRatioF();
  setMinimumHeight(qRound(2.1 * kPairHalfHeight * points));
  update();
}

void PairStage::Show(StageShows what) {
  if (shows_ == what) return;
  shows_ = what;
  Name();
  update();
}

void PairStage::SetPercept(std::optional<bool> one) {
  if (one_ == one) return;
  one_ = one;
  update();
}

void PairStage::Name() {
  switch (shows_) {
    case StageShows::kNothing:
      setAccessibleName(tr("Empty"));
      return;
    case StageShows::kMark:
      setAccessibleName(tr("A cross to look at"));
      return;
    case StageShows::kPair:
      setAccessibleName(
          tr("Two figures: the left one has a disc above, the right one a bar below"));
      return;
  }
}

void PairStage::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.setRenderHint(QPainter::Antialiasing);
  painter.fillRect(rect(), Qt::white);
  if (shows_ == StageShows::kNothing) return;
  const double points = 1 / devicePixelRatioF();
  const double figure = figure_dots_ * points;
  // On whole dots: the middle, and then half of the separation to each side.
  const double middle = qRound(width() / 2.0 / points) * points;
  const QPointF centre(middle, height() / 2.0);
  if (shows_ == StageShows::kMark) {
    painter.setPen(QPen(kPairInk, figure * 0.07, Qt::SolidLine, Qt::RoundCap));
    const double arm = figure * 0.25;
    painter.drawLine(centre - QPointF(arm, 0), centre + QPointF(arm, 0));
    painter.drawLine(centre - QPointF(0, arm), centre + QPointF(0, arm));
    return;
  }
  const int left_dots = separation_dots_ / 2;
  const double left = left_dots * points;
  const double right = (separation_dots_ - left_dots) * points;
  DrawPairHalf(painter, centre - QPointF(left, 0), figure, PairHalf::kLeft);
  DrawPairHalf(painter, centre + QPointF(right, 0), figure, PairHalf::kRight);
  if (one_) {
    // In a corner, framed, so that it is not taken for part of the pair.
    const double size = std::min(figure, 64.0) * 0.8;
    const QRectF frame(width() - size * 3.4 - 12, 10, size * 3.4, size * 1.7);
    painter.setPen(QPen(look::kWarm, 1.5, Qt::DashLine));
    painter.setBrush(look::kWarmSoft);
    painter.drawRoundedRect(frame, 8, 8);
    const QPointF at = frame.center();
    if (*one_) {
      DrawPairHalf(painter, at, size, PairHalf::kFused);
    } else {
      DrawPairHalf(painter, at - QPointF(size * 0.8, 0), size, PairHalf::kLeft);
      DrawPairHalf(painter, at + QPointF(size * 0.8, 0), size, PairHalf::kRight);
    }
  }
}

}  // namespace nearpoint
