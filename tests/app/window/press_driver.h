// Somebody at the keyboard in practice: presses the space bar a third of a second after the picture
// of what the simulated person sees changes. Waits for events, never for time.
#pragma once

#include <QCoreApplication>
#include <QEventLoop>
#include <QObject>
#include <QTest>
#include <functional>
#include <optional>

#include "app/live/live.h"
#include "app/window/main_window.h"

namespace nearpoint {

// Handles events until `done`, at most so many rounds: a test must end.
inline bool RunUntil(const std::function<bool()>& done, int rounds = 200000) {
  for (int i = 0; i < rounds; ++i) {
    if (done()) return true;
    QCoreApplication::processEvents(QEventLoop::WaitForMoreEvents | QEventLoop::AllEvents);
  }
  return false;
}

// Every key press of these tests goes where a person's would: to the window.
inline void PressKey(MainWindow& window, Qt::Key key) {
  QWidget* const focus = window.focusWidget();
  QTest::keyClick(focus != nullptr ? focus : static_cast<QWidget*>(&window), key);
}

class PressDriver : public QObject {
 public:
  PressDriver(Live& live, MainWindow& window) : window_(window) {
    connect(&live, &Live::FrameArrived, this, [this](const LiveFrame& frame) { OnFrame(frame); });
  }
  // Silent from now on.
  void Stop() { stopped_ = true; }

 private:
  void OnFrame(const LiveFrame& frame) {
    ++frame_;
    if (stopped_ || !frame.sees_two) return;
    if (*frame.sees_two != last_) {
      last_ = *frame.sees_two;
      press_at_ = frame_ + kLagFrames;
    }
    if (press_at_ == frame_) PressKey(window_, Qt::Key_Space);
  }

  static constexpr int kLagFrames = 4;  // a third of a second at 12 a second
  MainWindow& window_;
  bool last_ = false;
  bool stopped_ = false;
  int frame_ = 0;
  int press_at_ = -1;
};

}  // namespace nearpoint
