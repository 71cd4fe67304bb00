// The figures of a pair: alike but for one mark each, so that the fused figure shows both marks
// only while both eyes take part. The marks differ in shape and place, and their colours (blue,
// orange) in a way that people with red-green deficiency see too.
#pragma once

#include <QColor>
#include <QPainter>
#include <QPointF>

namespace nearpoint {

enum class PairHalf {
  kLeft,   // a disc above
  kRight,  // a bar below
  kFused,  // both: what is seen when the eyes cross at the pair
};

inline constexpr QColor kPairInk{28, 37, 48};
inline constexpr QColor kDiscColor{0, 94, 168};
inline constexpr QColor kBarColor{201, 91, 0};

// Of a figure as wide as 1: with its marks it reaches so far above and below its middle.
inline constexpr double kPairHalfHeight = 0.72;

// width: of the figure, in the painter's unit.
void DrawPairHalf(QPainter& painter, const QPointF& centre, double width, PairHalf half);

}  // namespace nearpoint
