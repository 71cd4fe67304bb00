// paint_gap [SECONDS]: runs a measurement on the simulated person in real time, full pictures, and
// prints the longest gap between two paints of a part that is always shown; beside it, the longest
// time that the window was busy with one event, and by how much a thread that only sleeps was late:
// what the machine itself took away. Needs no display.
#include <QApplication>
#include <QKeyEvent>
#include <QTimer>
#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <thread>
#include <vector>

#include "app/live/practice_patient.h"
#include "app/window/trial_dots.h"
#include "tests/app/window/home_fixture.h"

namespace nearpoint {
namespace {

using Clock = std::chrono::steady_clock;

double MillisecondsSince(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

// A thread that does nothing but sleep, at the priority of the window.
class Sleeper {
 public:
  Sleeper() {
    thread_ = std::jthread([this](const std::stop_token& stop) {
      constexpr std::chrono::milliseconds kSleep(10);
      while (!stop.stop_requested()) {
        const auto start = Clock::now();
        std::this_thread::sleep_for(kSleep);
        longest_ms_ = std::max(longest_ms_.load(), MillisecondsSince(start));
      }
    });
  }
  void Forget() { longest_ms_ = 0; }
  [[nodiscard]] double longest_ms() const { return longest_ms_; }

 private:
  std::atomic<double> longest_ms_ = 0;
  std::jthread thread_;
};

// Notes when each paint of one widget is done, and which event took longest.
class PaintWatch : public QApplication {
 public:
  using QApplication::QApplication;
  bool notify(QObject* receiver, QEvent* event) override {
    const bool painted = receiver == watched && event->type() == QEvent::Paint;
    const auto start = Clock::now();
    ++depth_;
    // The receiver may not live any longer after it.
    std::string what = receiver->metaObject()->className();
    what += ", event " + std::to_string(static_cast<int>(event->type()));
    const bool taken = QApplication::notify(receiver, event);
    --depth_;
    const double took_ms = MillisecondsSince(start);
    if (depth_ == 0 && watched != nullptr && took_ms > busiest_ms) {
      busiest_ms = took_ms;
      busiest = what;
    }
    if (painted) {
      const auto now = Clock::now();
      if (last) gaps_ms.push_back(std::chrono::duration<double, std::milli>(now - *last).count());
      last = now;
    }
    return taken;
  }
  QObject* watched = nullptr;
  std::optional<Clock::time_point> last;
  std::vector<double> gaps_ms;
  double busiest_ms = 0;
  std::string busiest;

 private:
  int depth_ = 0;
};

int Run(PaintWatch& application, int seconds) {
  Home home;
  MainWindow& window = home.Open(/*practice=*/true);
  home.context().open_source = [](const AppContext&) {
    PracticeOptions options = DefaultPractice();
    options.presses = true;
    return OpenPractice(options);
  };
  home.context().patient_presses = true;
  window.Show(PageId::kMeasure);
  QKeyEvent press(QEvent::KeyPress, Qt::Key_Space, Qt::NoModifier);
  QApplication::sendEvent(window.page(), &press);
  auto* dots = window.page()->findChild<TrialDots*>();
  int frames = 0;
  Sleeper sleeper;
  QObject::connect(&home.live(), &Live::FrameArrived, &window, [&] {
    // Counted from the first picture: loading the models belongs to the start.
    if (++frames > 1) return;
    application.watched = dots;
    sleeper.Forget();
  });
  QTimer often;
  QObject::connect(&often, &QTimer::timeout, dots, [dots] { dots->update(); });
  often.start(10);
  QTimer::singleShot(seconds * 1000, &application, [&application] {
    application.watched = nullptr;  // the end waits for the vision thread
    QApplication::quit();
  });
  QApplication::exec();
  home.live().Stop();

  auto& gaps = application.gaps_ms;
  if (gaps.empty()) {
    std::fputs("nothing was painted\n", stderr);
    return 1;
  }
  std::ranges::sort(gaps);
  const auto at = [&](double part) {
    return gaps[static_cast<std::size_t>(part * static_cast<double>(gaps.size() - 1))];
  };
  std::printf(
      "%d frames measured, %zu paints; gap between paints: median %.1f ms, 99 %% %.1f ms, "
      "longest %.1f ms\n"
      "longest event %.1f ms (%s); a thread that sleeps 10 ms slept up to %.1f ms\n",
      frames, gaps.size(), at(0.5), at(0.99), gaps.back(), application.busiest_ms,
      application.busiest.c_str(), sleeper.longest_ms());
  return 0;
}

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  if (!qEnvironmentVariableIsSet("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
  nearpoint::PaintWatch application(argc, argv);
  QApplication::setStyle("Fusion");
  return nearpoint::Run(application, argc > 1 ? std::atoi(argv[1]) : 30);
}
