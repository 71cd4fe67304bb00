// One person over time as a picture: each measurement with its band, the course with its own, the
// limit, what is usual for the age, and below it the days of exercise.
#pragma once

#include <QWidget>

#include "app/clinic/time_line.h"
#include "app/records/exercise_days_json.h"

namespace nearpoint {

class TimeLineView : public QWidget {
  Q_OBJECT

 public:
  TimeLineView(TimeLine line, std::vector<ExerciseDay> exercise, std::vector<Day> measure_on,
               QWidget* parent = nullptr);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  [[nodiscard]] double X(double day) const;
  [[nodiscard]] double Y(double mm) const;
  void PaintNorms(QPainter& painter) const;
  void PaintCourse(QPainter& painter) const;
  void PaintPoints(QPainter& painter) const;
  void PaintExercise(QPainter& painter) const;
  void PaintAxes(QPainter& painter) const;

  TimeLine line_;
  std::vector<ExerciseDay> exercise_;
  std::vector<Day> measure_on_;
  double first_day_ = 0, last_day_ = 1, farthest_mm_ = 100;
  QRectF place_;
};

}  // namespace nearpoint
