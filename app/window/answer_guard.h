// Keeps from a question the keys and clicks that were meant for what stood before it: those of the
// first moment, and a key that is held until it is let go.
#pragma once

#include <QObject>
#include <chrono>
#include <functional>
#include <set>

class QWidget;

namespace nearpoint {

class AnswerGuard : public QObject {
  Q_OBJECT

 public:
  // After a measurement or an exercise, and between two questions. Chosen here, no source.
  static constexpr std::chrono::milliseconds kAfterKeys{1500};
  static constexpr std::chrono::milliseconds kBetween{500};

  // Of the window that `asks` stands in, while `asks` is visible. ticks: a clock that only goes on.
  AnswerGuard(QWidget* asks, std::function<std::chrono::milliseconds()> ticks);
  ~AnswerGuard() override;

  // From now on nothing is taken for so long.
  void Begin(std::chrono::milliseconds quiet);

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  QWidget* asks_;
  std::function<std::chrono::milliseconds()> ticks_;
  std::chrono::milliseconds until_{};
  bool on_ = false;
  std::set<int> held_;  // keys that went down before it, or too early
  std::set<int> let_through_;
};

// A steady clock.
[[nodiscard]] std::chrono::milliseconds SteadyTicks();

}  // namespace nearpoint
