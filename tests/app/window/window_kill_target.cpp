// window_kill_target FILE [exercises]: the window with somebody at its keys (home_script.h), who
// measures and exercises with simulated eyes without an end. Says on standard output what stands in
// the file as soon as the window has stored it. Made to be killed.
#include <QApplication>
#include <cstdio>
#include <map>
#include <string>

#include "tests/app/window/home_script.h"
#include "tests/app/window/stored_digest.h"

namespace nearpoint {
namespace {

// A trial is over in a second: two far away, one again a little farther.
PracticeOptions Hasty() {
  PracticeOptions options = FastPractice();
  simulate::Behaviour& behaviour = options.patient.behaviour;
  behaviour.start = Length::Millimeters(325);
  behaviour.break_mean = Length::Millimeters(245);
  behaviour.recovery_mean = Length::Millimeters(270);
  behaviour.withdrawal = Speed::MillimetersPerSecond(40);
  behaviour.frames_per_second = 12;
  return options;
}

// What was not there yet when it was last said.
class Teller {
 public:
  explicit Teller(const Store& store)
      : store_(store),
        since_session_(NewestOf(store, "session")),
        since_exercise_(NewestOf(store, "exercise_session")) {}
  void Tell() {
    for (auto& [what, digest] : DigestOf(store_, since_session_, since_exercise_)) {
      auto& said = said_[what];
      if (said == digest) continue;
      said = digest;
      std::printf("%s %s\n", what.c_str(), digest.c_str());
    }
    std::fflush(stdout);
  }

 private:
  const Store& store_;
  RowId since_session_, since_exercise_;
  std::map<std::string, std::string> said_;
};

int Run(int argc, char** argv) {
  Home home(QString::fromLocal8Bit(argv[1]));
  home.Open(/*practice=*/true);
  home.context().open_source = [](const AppContext&) { return OpenPractice(Hasty()); };
  HomeScript script(home, argc > 2, [] { std::puts("."); });
  Teller teller(home.store());
  QTimer often;
  QObject::connect(&often, &QTimer::timeout, &often, [&] { teller.Tell(); });
  often.start(20);
  return QApplication::exec();
}

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  if (argc < 2) return 2;
  QApplication application(argc, argv);
  QApplication::setStyle("Fusion");
  return nearpoint::Run(argc, argv);
}
