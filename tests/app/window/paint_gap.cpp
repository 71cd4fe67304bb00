// paint_gap [SECONDS]: runs a measurement on the simulated person in real time, full pictures, and
// prints the longest gap between two paints of a part that is always shown. Needs no display.
#include <QApplication>
#include <QKeyEvent>
#include <QTimer>
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "app/live/practice_patient.h"
#include "app/window/trial_dots.h"
#include "tests/app/window/home_fixture.h"

namespace nearpoint {
namespace {

using Clock = std::chrono::steady_clock;

// Notes when each paint of one widget is done.
class PaintWatch : public QApplication {
 public:
  using QApplication::QApplication;
  bool notify(QObject* receiver, QEvent* event) override {
    const bool painted = receiver == watched && event->type() == QEvent::Paint;
    const bool taken = QApplication::notify(receiver, event);
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
  QObject::connect(&home.live(), &Live::FrameArrived, &window, [&] {
    // Counted from the first picture: loading the models belongs to the start.
    if (++frames == 1) application.watched = dots;
  });
  QTimer often;
  QObject::connect(&often, &QTimer::timeout, dots, [dots] { dots->update(); });
  often.start(10);
  QTimer::singleShot(seconds * 1000, &application, &QApplication::quit);
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
      "longest %.1f ms\n",
      frames, gaps.size(), at(0.5), at(0.99), gaps.back());
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
