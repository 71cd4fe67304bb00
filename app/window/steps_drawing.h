// The measurement in three pictures: lean in, press at two, go back and press at one.
#pragma once

#include <QWidget>

namespace nearpoint {

class StepsDrawing : public QWidget {
  Q_OBJECT

 public:
  explicit StepsDrawing(QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] bool hasHeightForWidth() const override { return true; }
  [[nodiscard]] int heightForWidth(int width) const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  // Three beside each other, or below each other where that is too narrow for the words.
  [[nodiscard]] static bool Stacked(int width);
  [[nodiscard]] static int TextRoom();
};

}  // namespace nearpoint
