#include "app/window/screen_letter.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

#include "app/window/look.h"
#include "calibration/fixation_letter.h"

namespace nearpoint {
namespace {

constexpr int kUnknown = 2;
constexpr int kStrokes = kLetterStrokes;  // of the letter's height and width

}  // namespace

int StrokeDots(double mm_per_dot) {
  if (!(mm_per_dot > 0)) return kUnknown;
  const double stroke_mm = DetailAt(kLetterDistance, kLetterDetailArcmin).mm();
  return std::max(1, static_cast<int>(std::lround(stroke_mm / mm_per_dot)));
}

std::optional<Length> StrokeWidth(double mm_per_dot) {
  if (!(mm_per_dot > 0)) return std::nullopt;
  return Length::Millimeters(StrokeDots(mm_per_dot) * mm_per_dot);
}

ScreenLetter::ScreenLetter(double mm_per_dot, QWidget* parent)
    : QWidget(parent), stroke_dots_(StrokeDots(mm_per_dot)) {
  setFixedSize(sizeHint());
  setAccessibleName(tr("The letter to look at"));
}

QSize ScreenLetter::sizeHint() const { return {look::Art(72), look::Art(44)}; }

void ScreenLetter::paintEvent(QPaintEvent*) {
  QPainter painter(this);
  painter.fillRect(rect(), look::kCard);
  // Whole dots, whatever the scale of the window.
  const double dot = 1 / devicePixelRatioF();
  const double stroke = stroke_dots_ * dot;
  const auto whole = [dot](double at) { return std::round(at / dot) * dot; };
  const double left = whole(width() / 2.0 - kStrokes * stroke / 2);
  const double top = whole(height() / 2.0 - kStrokes * stroke / 2);
  const auto bar = [&](double x, double y, double w, double h) {
    painter.fillRect(QRectF(left + x * stroke, top + y * stroke, w * stroke, h * stroke),
                     look::kInk);
  };
  bar(0, 0, 1, kStrokes);
  for (int row : {0, 2, 4}) bar(0, row, kStrokes, 1);
  // Two lines that lead the eye to it.
  const double gap = kStrokes * stroke + look::Art(4);
  painter.fillRect(QRectF(0, whole(height() / 2.0), left - gap, dot), look::kQuietInk);
  painter.fillRect(QRectF(left + kStrokes * stroke + gap, whole(height() / 2.0),
                          width() - left - kStrokes * stroke - gap, dot),
                   look::kQuietInk);
}

}  // namespace nearpoint
