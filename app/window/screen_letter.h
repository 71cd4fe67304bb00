// The letter to look at on the screen: an E of whole dots, as fine as the screen can show it and no
// finer than a 20/30 letter at 40 cm.
#pragma once

#include <QWidget>
#include <optional>

#include "vision/core/units.h"

namespace nearpoint {

// Strokes of a letter on this screen, in dots. 20/30: strokes of 1.5 minutes of arc (ISO 8596: a
// letter is five strokes high), 0.175 mm at 40 cm; few screens show less than that by a dot.
// mm_per_dot 0: not known; then two dots.
[[nodiscard]] int StrokeDots(double mm_per_dot);

// The width of a stroke; nullopt where the screen's size is not known.
[[nodiscard]] std::optional<Length> StrokeWidth(double mm_per_dot);

class ScreenLetter : public QWidget {
  Q_OBJECT

 public:
  explicit ScreenLetter(double mm_per_dot, QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  int stroke_dots_;
};

}  // namespace nearpoint
