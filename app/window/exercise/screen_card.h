// The outline of a bank card on the screen, made as large as a real one that is held against it.
#pragma once

#include <QWidget>

namespace nearpoint {

// Keys: right and up make it larger, left and down smaller, with Shift in larger steps; Return says
// that it fits.
class ScreenCard : public QWidget {
  Q_OBJECT

 public:
  explicit ScreenCard(double mm_per_dot, QWidget* parent = nullptr);
  [[nodiscard]] double mm_per_dot() const { return mm_per_dot_; }
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }
  void Grow(double dots);  // of its width

 signals:
  void Fits();

 protected:
  void paintEvent(QPaintEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;

 private:
  [[nodiscard]] QSizeF CardPoints() const;
  double mm_per_dot_;
};

}  // namespace nearpoint
