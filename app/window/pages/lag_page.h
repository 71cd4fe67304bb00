// How long this hand takes from seeing to pressing: a short task.
#pragma once

#include <QTimer>
#include <functional>
#include <vector>

#include "app/window/page.h"
#include "calibration/lag_task.h"

class QLabel;
class QPushButton;

namespace nearpoint {

class PerceptPicture;

class LagPage : public Page {
  Q_OBJECT

 public:
  // clock_ms: a monotonic clock; tests give their own.
  explicit LagPage(AppContext& context, QWidget* parent = nullptr,
                   std::function<double()> clock_ms = {});
  [[nodiscard]] PageId WayOut() const override;
  [[nodiscard]] bool TakesEveryPress() const override { return running_; }
  void TakePress() override;

  void Begin();
  void Show();  // the letter becomes two; the timer's business, and a test's

 private:
  void Wait();
  void Finish();

  std::function<double()> clock_ms_;
  std::vector<Time> waits_;
  std::size_t next_wait_ = 0;
  QTimer timer_;
  PerceptPicture* picture_;
  QLabel* says_;
  QLabel* delays_;  // what skipping costs; then how late screen and camera are taken to be
  QPushButton* begin_;
  QPushButton* next_;
  bool running_ = false;
  bool shown_ = false;
  double shown_at_ms_ = 0;
  std::vector<LagPress> presses_;
};

}  // namespace nearpoint
