// How long this hand takes from seeing to pressing: a short task.
#pragma once

#include <QTimer>
#include <functional>
#include <vector>

#include "app/guide/reaction_task.h"
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

  void Begin();
  // The letter becomes two, and nobody pressed; the timer's business, and a test's.
  void Show();
  void Miss();

 private:
  void Wait();
  void Next();
  void Finish();

  std::function<double()> clock_ms_;
  ReactionTask task_;
  QTimer timer_;
  PerceptPicture* picture_;
  QLabel* says_;
  QLabel* delays_;  // what skipping costs; then how late screen and camera are taken to be
  QPushButton* begin_;
  QPushButton* next_;
  bool running_ = false;
};

}  // namespace nearpoint
