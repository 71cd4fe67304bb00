// The measurement in three pictures: lean in, press at two, go back and press at one.
#pragma once

#include <QWidget>

namespace nearpoint {

class StepsDrawing : public QWidget {
  Q_OBJECT

 public:
  explicit StepsDrawing(QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;
};

}  // namespace nearpoint
