#include "app/event_cli/event_options.h"

#include <QCoreApplication>
#include <QDate>
#include <QDir>
#include <QStandardPaths>
#include <array>

#include "app/print/true_page.h"

namespace nearpoint {

std::string EventFile(const std::string& data) {
  QString folder = QString::fromStdString(data);
  if (folder.isEmpty()) {
    QCoreApplication::setApplicationName("nearpoint");
    folder = QStandardPaths::writableLocation(QStandardPaths::AppDataLocation);
  }
  return QDir(folder).filePath("event.db").toStdString();
}

Result<EventStore> OpenStation(const std::string& data) {
  EnsureGuiApplication();
  return EventStore::Open(QString::fromStdString(EventFile(data)));
}

Result<Uuid> ChooseEvent(const EventStore& store, const std::string& wanted) {
  const auto events = store.Events();
  if (!events) return tl::unexpected(events.error());
  const std::string current =
      wanted.empty() ? store.Setting("event").toStdString() : std::string(wanted);
  std::string known;
  for (const EventStore::Listed& listed : *events) {
    if (listed.event == current || listed.what.name == current) return listed.event;
    known += (known.empty() ? "" : ", ") + ("\"" + listed.what.name + "\"");
  }
  if (wanted.empty() && !events->empty()) return events->front().event;
  if (events->empty() && store.LockedEvents() > 0) {
    return Fail(ErrorCode::kUnavailable,
                "The event is still locked here: its key comes with the merge after another "
                "station that has it has merged.");
  }
  if (events->empty()) {
    return Fail(ErrorCode::kNotFound,
                "There is no event on this station; begin one with `nearpoint event new`, or merge "
                "with the server that has it.");
  }
  return Fail(ErrorCode::kNotFound,
              "No event is called \"" + wanted + "\"; here are " + known + ".");
}

Result<EventDesk> OpenDesk(EventStore& store, const std::string& wanted) {
  const auto event = ChooseEvent(store, wanted);
  if (!event) return tl::unexpected(event.error());
  return EventDesk::Open(store, *event);
}

Result<EventRule> RuleOf(const RuleArguments& arguments) {
  EventRule rule;
  rule.norm = arguments.norm;
  for (const ReferencePlane plane : {ReferencePlane::kCorneal, ReferencePlane::kLateralCanthus,
                                     ReferencePlane::kCentreOfRotation}) {
    if (std::string_view(ToText(plane)).starts_with(arguments.plane)) rule.plane = plane;
  }
  rule.least_trials = arguments.least_trials;
  rule.most_trials = arguments.most_trials;
  rule.refer_from = arguments.refer_from;
  rule.repeat_from = arguments.repeat_from;
  if (auto fine = CheckRule(rule); !fine) return tl::unexpected(fine.error());
  return rule;
}

RosterRules RosterRulesFor(const std::string& day) {
  const QDate date = QDate::fromString(QString::fromStdString(day), Qt::ISODate);
  RosterRules rules;
  rules.year = date.year();
  rules.month = date.month();
  rules.day = date.day();
  return rules;
}

}  // namespace nearpoint
