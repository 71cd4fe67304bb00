// How many repetitions are done: a circle each, ticked when counted; and how much of the hold.
#pragma once

#include <QWidget>

namespace nearpoint {

class RepetitionRow : public QWidget {
  Q_OBJECT

 public:
  explicit RepetitionRow(QWidget* parent = nullptr);
  // hold: 0 to 1, of the one that runs.
  void Set(int counted, int asked, double hold);
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  int counted_ = 0;
  int asked_ = 1;
  double hold_ = 0;
};

}  // namespace nearpoint
