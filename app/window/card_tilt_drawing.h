// How the card is to be held next, as a drawing: tilted, or moved to a part of the picture.
#pragma once

#include <QWidget>
#include <optional>

#include "calibration/camera_guidance.h"

namespace nearpoint {

class CardTiltDrawing : public QWidget {
  Q_OBJECT

 public:
  explicit CardTiltDrawing(QWidget* parent = nullptr);
  void SetTilt(std::optional<CardTilt> tilt);  // absent: any
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  std::optional<CardTilt> tilt_;
};

}  // namespace nearpoint
