// What the near point is, as a drawing: two eyes, their lines of sight, and the place from which on
// one becomes two.
#pragma once

#include <QWidget>

namespace nearpoint {

class NearPointDrawing : public QWidget {
  Q_OBJECT

 public:
  explicit NearPointDrawing(QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;
};

}  // namespace nearpoint
