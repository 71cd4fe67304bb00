// Letters of five by five strokes as filled shapes: fine targets whose size does not hang on a
// font.
#pragma once

#include <QPainterPath>
#include <QPointF>

namespace nearpoint {

// letter: one of "EFHLTUZ"; anything else gives an empty path. middle and height in the painter's
// unit; height is that of the letter, five strokes.
[[nodiscard]] QPainterPath Optotype(char letter, const QPointF& middle, double height);

}  // namespace nearpoint
