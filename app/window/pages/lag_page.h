// How long this hand takes from seeing to pressing: a short task.
#pragma once

#include <QElapsedTimer>
#include <QTimer>
#include <functional>
#include <random>
#include <vector>

#include "app/window/page.h"

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

 private:
  void Begin();
  void Wait();
  void Show();
  void Finish();

  std::function<double()> clock_ms_;
  std::minstd_rand random_;
  QTimer timer_;
  PerceptPicture* picture_;
  QLabel* says_;
  QPushButton* begin_;
  QPushButton* next_;
  bool running_ = false;
  bool shown_ = false;
  double shown_at_ms_ = 0;
  std::vector<double> times_ms_;
};

}  // namespace nearpoint
