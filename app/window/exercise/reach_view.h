// The reach over time: a point and its band a day, nearer is lower.
#pragma once

#include <QWidget>

#include "app/exercise/diary.h"

namespace nearpoint {

class ReachView : public QWidget {
  Q_OBJECT

 public:
  explicit ReachView(ReachCourse course, QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  ReachCourse course_;
};

}  // namespace nearpoint
