// The measurement in three pictures: come nearer, press at two, go back and press at one.
#pragma once

#include <QWidget>

class QPainter;

namespace nearpoint {

class StepsDrawing : public QWidget {
  Q_OBJECT

 public:
  enum class Moves { kHead, kCard };
  explicit StepsDrawing(Moves moves = Moves::kHead, QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] bool hasHeightForWidth() const override { return true; }
  [[nodiscard]] int heightForWidth(int width) const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  // Three beside each other, or below each other where that is too narrow for the words.
  [[nodiscard]] static bool Stacked(int width);
  [[nodiscard]] static int TextRoom();
  void DrawScene(QPainter& painter, const QRectF& art, int step) const;

  Moves moves_;
};

}  // namespace nearpoint
