// An event in a window of a test's own: three children with consent, one without.
#pragma once

#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>

#include "app/window/event/event_context.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"

namespace nearpoint {

// The patient of the child at the station, in a small picture and without waiting.
inline PracticeOptions ChildAtTheStation(const AppContext& context) {
  PracticeOptions options = context.event->practice() ? context.event->Patient(context.event->child)
                                                      : PracticeWith(PracticeChild::kEasy);
  options.patient.optics.camera = simulate::PinholeCamera(960, 540, Angle::Degrees(65));
  options.real_time = false;
  return options;
}
// At the pace of a child, whose seconds are counted.
inline OpenLiveSource FastChild(const AppContext& context) {
  return OpenPractice(ChildAtTheStation(context));
}
// For tests that need no more than that a child is measured.
inline OpenLiveSource QuickChild(const AppContext& context) {
  return OpenPractice(Quickly(ChildAtTheStation(context)));
}

inline EventContext& MakeEvent(Home& home, const std::string& name = "Hall") {
  EventContext& event = **EventContext::Of(home.context());
  const Uuid uuid = EventDesk::Begin(event.store(), {name, "2026-03-14", EventRule()}).value();
  std::vector<NewRecord> records;
  const std::pair<const char*, const char*> children[] = {
      {"12", "Zoë Müller"}, {"13", "Anna Groß"}, {"14", "Jean-Luc Dupont"}, {"15", "Ben Unasked"}};
  for (const auto& [number, child_name] : children) {
    ChildAdded child;
    child.number = number;
    child.name = child_name;
    child.group = "3a";
    child.age_years = 8.5;
    const Uuid id = MakeUuid();
    records.push_back({id, child, ""});
    if (child.number != "15") records.push_back({id, ConsentTaken{true, "form"}, ""});
  }
  static_cast<void>(event.store().Append(uuid, records).value());  // throws where it fails
  static_cast<void>(event.Choose(uuid));
  return event;
}

inline const ChildState& ChildOf(EventContext& event, const std::string& number) {
  event.Refresh();
  return *event.desk()->state().FindNumber(number);
}

// Somebody who types, and counts the keys.
class Typist {
 public:
  explicit Typist(MainWindow& window) : window_(window) {}
  void Type(const QString& text) {
    for (const QChar letter : text) {
      QTest::keyClicks(window_.focusWidget(), QString(letter));
      ++keys_;
    }
  }
  void Press(Qt::Key key, Qt::KeyboardModifiers modifiers = Qt::NoModifier) {
    QWidget* const focus = window_.focusWidget();
    QTest::keyClick(focus != nullptr ? focus : static_cast<QWidget*>(&window_), key, modifiers);
    ++keys_;
  }
  [[nodiscard]] int Take() { return std::exchange(keys_, 0); }

 private:
  MainWindow& window_;
  int keys_ = 0;
};

}  // namespace nearpoint
