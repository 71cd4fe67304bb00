// The weeks of the diary: a square a day, with a sign for each mark besides its colour.
#pragma once

#include <QWidget>
#include <vector>

#include "app/exercise/diary.h"

namespace nearpoint {

class WeekView : public QWidget {
  Q_OBJECT

 public:
  explicit WeekView(std::vector<DiaryWeek> weeks, Day today, QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;
  [[nodiscard]] QSize minimumSizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  std::vector<DiaryWeek> weeks_;
  Day today_;
};

}  // namespace nearpoint
