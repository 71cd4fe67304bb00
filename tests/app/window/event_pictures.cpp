// event_pictures FOLDER: a PNG of every page of a school event, to be looked at. Needs no display.
#include <QDir>
#include <QFile>
#include <cstdio>

#include "app/window/event/event_roster_page.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "tests/app/window/event_fixture.h"

namespace nearpoint {
namespace {

class Photographer {
 public:
  explicit Photographer(QString folder) : folder_(std::move(folder)) {}

  void Take(const QString& look, const QString& language, double scale, QSize size) {
    look_ = look;
    size_ = size;
    UseLanguage(language);
    look::SetScale(scale);
    Home home;
    MainWindow& window = home.Open();
    window.Show(PageId::kEvent);
    Save(window, "60-event-none");
    window.Show(PageId::kEventSetUp);
    Save(window, "61-event-set-up");
    EventContext& event = MakeEvent(home);
    window.Show(PageId::kEvent);
    Save(window, "62-event");
    window.Show(PageId::kEventRoster);
    Roster(home, dynamic_cast<EventRosterPage&>(*window.page()),
           "no,pupil,class,age\n21,Eva,3b,8\n");
    Save(window, "63-roster-fine");
    Roster(home, dynamic_cast<EventRosterPage&>(*window.page()),
           "no,pupil,class,age\n21,Eva,3b,8\n21,Ole,3b,80\n23,=A1,3b,7\nTotal,3,,\n");
    Save(window, "64-roster-faults");
    Roster(home, dynamic_cast<EventRosterPage&>(*window.page()),
           "no,pupil,class,Rückmeldung,phone\n21,Eva,3b,nein,12\n22,Ole,3b,ja,13\n");
    Save(window, "64-roster-unknown");
    Station(home, event, window);
    After(home, window);
  }
  [[nodiscard]] int count() const { return count_; }

 private:
  void Save(MainWindow& window, const QString& name) {
    window.resize(size_);
    for (int i = 0; i < 4; ++i) QApplication::processEvents();
    if (window.grab().save(QString("%1/%2-%3.png").arg(folder_, look_, name))) ++count_;
  }
  static void Roster(Home& home, EventRosterPage& page, const char* text) {
    const QString name = QString::fromStdString(home.folder() / "roster.csv");
    QFile file(name);
    if (file.open(QIODevice::WriteOnly)) file.write(text);
    file.close();
    page.Read(name);
  }
  static void Measure(EventContext& event, const std::string& number, double mm,
                      bool anyway = false) {
    const Uuid child = ChildOf(event, number).uuid;
    static_cast<void>(event.desk()->Start(child, anyway));
    ChildMeasured what;
    what.trials_made = 3;
    what.trials_used = 2;
    what.set_aside = {"the approach was too fast"};
    what.break_mm = mm;
    what.low_mm = mm - 9;
    what.high_mm = mm + 9;
    what.probability_beyond = mm > 90 ? 0.97 : 0.02;
    what.cut_off_mm = 73.5;
    what.seconds = 96;
    static_cast<void>(event.desk()->Keep(child, what, ""));
    event.child = child;
    event.kept = true;
  }
  void Station(Home& home, EventContext& event, MainWindow& window) {
    Measure(event, "12", 118);
    window.Show(PageId::kStation);
    Save(window, "65-station");
    auto* typed = window.page()->findChild<QLineEdit*>("typed");
    typed->setText("ann");
    Save(window, "66-station-found");
    window.page()->findChild<QPushButton*>("measure")->click();
    Save(window, "66-station-today");
    static_cast<void>(event.store().database().Run("PRAGMA query_only = ON"));
    window.page()->findChild<QPushButton*>("today_yes")->click();
    Save(window, "66-station-unwritten");
    static_cast<void>(event.store().database().Run("PRAGMA query_only = OFF"));
    event.WriteWhatIsLeft();
    static_cast<void>(event.desk()->TakeBackCaution(ChildOf(event, "13").uuid));
    window.Show(PageId::kStation);
    typed = window.page()->findChild<QLineEdit*>("typed");
    typed->setText("zo");
    window.page()->findChild<QPushButton*>("measure")->click();
    Save(window, "67-station-been-here");
    typed->setText("ben");
    window.page()->findChild<QPushButton*>("measure")->click();
    Save(window, "68-station-consent");
    typed->setText("77");
    Save(window, "69-station-walk-up");
    window.Show(PageId::kStationDone);
    Save(window, "70-station-done");
    event.card = std::make_unique<ChildCard>(home.context(), event.store(), event.child);
    window.Show(PageId::kCard);
    Save(window, "70-station-card");
    event.card.reset();
    const Uuid begun = ChildOf(event, "14").uuid;
    static_cast<void>(event.desk()->Start(begun));
    static_cast<void>(event.desk()->KeepTrial(begun, {"", "", false}));
    window.Show(PageId::kStation);
    Save(window, "70-station-interrupted");
    window.page()->findChild<QPushButton*>("measure")->click();
    Save(window, "70-station-go-on");
    home.context().practice = true;
    window.Show(PageId::kStation);
    Save(window, "71-station-practice");
    home.context().practice = false;
  }
  void After(Home& home, MainWindow& window) {
    window.Show(PageId::kEvent);  // the practice gives way to the event
    EventContext& event = *home.context().event;
    Measure(event, "13", 50);
    window.Show(PageId::kEventAfter);
    Save(window, "72-after");
    static_cast<void>(event.desk()->Stop(ChildOf(event, "13").uuid, StopReason::kCaution));
    // As another station would have written it.
    ChildAdded twin;
    twin.number = "12";
    twin.walk_up = true;
    static_cast<void>(event.store().Append(event.desk()->state().uuid, {{MakeUuid(), twin, ""}}));
    window.Show(PageId::kEventAfter);
    Save(window, "73-after-looked-after");
  }

  QString folder_, look_;
  QSize size_;
  int count_ = 0;
};

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  QApplication application(argc, argv);
  QApplication::setStyle("Fusion");
  if (argc != 2) {
    std::fprintf(stderr, "usage: event_pictures FOLDER\n");
    return 2;
  }
  QDir().mkpath(argv[1]);
  nearpoint::Photographer photographer(argv[1]);
  photographer.Take("en", "en", 1, {1080, 760});
  photographer.Take("de", "de", 1, {1080, 760});
  photographer.Take("large", "en", 2, {1280, 900});
  photographer.Take("small", "de", 2, {1024, 600});
  std::printf("%d pictures\n", photographer.count());
}
