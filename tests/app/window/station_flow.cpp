// station_flow [ROUNDS [CHILD]]: the practice children through a station by a keyboard script: keys
// of the volunteer, seconds of each child on the clock of the frames (as long as it would take in a
// hall, without the typing), and what came of it (break: value, or the upper end of its band).
// Needs no display.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "app/measure/robust.h"
#include "app/window/event/event_words.h"
#include "app/window/language.h"
#include "tests/app/window/event_fixture.h"

int main(int argc, char** argv) {
  using namespace nearpoint;
  QApplication application(argc, argv);
  QApplication::setStyle("Fusion");
  UseLanguage("en");
  const int rounds = argc > 1 ? std::atoi(argv[1]) : 1;
  const int only = argc > 2 ? std::atoi(argv[2]) : 0;
  std::vector<double> keys, seconds;
  std::printf("child                keys  seconds  trials  count  break_mm  basis   finding\n");
  for (int round = 0; round < rounds; ++round) {
    Home home;
    home.context().open_source = FastChild;
    MainWindow& window = home.Open(true);
    window.Show(PageId::kStation);
    EventContext& event = *home.context().event;
    Time first{}, last{};
    QObject::connect(&home.live(), &Live::FrameArrived, [&](const LiveFrame& frame) {
      if (first == Time{}) first = frame.sample.time;
      last = frame.sample.time;
    });
    for (int number = 1; number <= 6; ++number) {
      if (only != 0 && number != only) continue;
      first = last = Time{};
      Typist typist(window);
      const std::string name = ChildOf(event, std::to_string(number)).child.name;
      typist.Type(QString::fromStdString(name.substr(0, 3)).toLower());
      typist.Press(Qt::Key_Return);
      if (number == 1) typist.Press(Qt::Key_Return);  // consent: the form is here
      typist.Press(Qt::Key_N);                        // none of what is asked about today
      const bool done = RunUntil(
          [&] { return window.shown() == PageId::kStationDone || ToSeconds(last - first) > 400; });
      typist.Press(done && window.shown() == PageId::kStationDone ? Qt::Key_Return
                                                                  : Qt::Key_Escape);
      RunUntil([&] { return window.shown() == PageId::kStation; });
      const ChildState& child = ChildOf(event, std::to_string(number));
      const ChildMeasured* const what =
          child.counts ? &child.measurements[*child.counts].what : nullptr;
      keys.push_back(typist.Take());
      seconds.push_back(ToSeconds(last - first));
      std::printf("%-20s %4.0f  %7.1f  %6d  %5d  %8.1f  %-6s  %s%s\n", name.c_str(), keys.back(),
                  seconds.back(), what ? what->trials_made : 0, what ? what->trials_used : 0,
                  what ? what->break_mm.value_or(what->high_mm.value_or(0)) : 0,
                  what ? std::string(ToText(what->basis)).c_str() : "-",
                  words::ForFinding(child).toStdString().c_str(),
                  what && what->contradicted ? " (report and eyes disagree)" : "");
      std::fflush(stdout);
    }
  }
  std::printf("median: %.0f keys, %.0f seconds\n", MedianOf(keys), MedianOf(seconds));
}
