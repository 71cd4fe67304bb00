#include "app/window/event/event_words.h"

#include <QCoreApplication>
#include <cmath>

#include "app/window/event/event_context.h"
#include "app/window/language.h"

namespace nearpoint::words {
namespace {

struct EventWords {
  Q_DECLARE_TR_FUNCTIONS(EventWords)
};

QString Text(const std::string& text) { return QString::fromStdString(text); }

QString Count(double expected) { return QString::number(std::lround(expected)); }

}  // namespace

QString ForChild(const ChildState& child) {
  QString number = EventWords::tr("number %1").arg(Text(child.child.number));
  if (child.number_shared) {
    constexpr qsizetype kTime = 11, kMinutes = 5;
    number += ' ' + EventWords::tr("(given twice; this one at %1 UTC, %2)")
                        .arg(Text(child.added_at).mid(kTime, kMinutes),
                             child.added_by.empty() ? QString("–") : Text(child.added_by));
  }
  if (child.child.name.empty()) return number;
  QString words = Text(child.child.name);
  if (!child.child.group.empty()) words += " · " + Text(child.child.group);
  return words + " · " + number;
}

QString ForStage(const ChildState& child, const Uuid& station) {
  if (child.consent && !child.consent->given) return EventWords::tr("consent refused");
  if (child.needs_looking_after()) {
    return EventWords::tr("not measured: the person in charge sees this child first");
  }
  const int open = child.open_at == station ? static_cast<int>(child.open_trials.size()) : 0;
  const QString safe =
      open > 0 ? ", " + EventWords::tr("%n round(s) are safe here", nullptr, open) : QString();
  switch (child.stage) {
    case ChildStage::kWaiting:
      return child.consent ? EventWords::tr("ready")
                           : EventWords::tr("consent has to be recorded first");
    case ChildStage::kMeasuring:
      return child.at_station == station ? EventWords::tr("at this station") + safe
                                         : EventWords::tr("at another station");
    case ChildStage::kPaused:
      return EventWords::tr("paused") + safe;
    case ChildStage::kDone:
      return EventWords::tr("has been here");
    case ChildStage::kLeft:
      return EventWords::tr("left without a measurement");
  }
  return {};
}

QString ForDistance(std::optional<double> corneal_mm, ReferencePlane plane) {
  if (!corneal_mm) return {};
  const Length at = MoveToPlane(Length::Millimeters(*corneal_mm), ReferencePlane::kCorneal, plane);
  const QString value = Centimeters(at.mm());
  switch (plane) {
    case ReferencePlane::kCorneal:
      return EventWords::tr("%1 from the cornea").arg(value);
    case ReferencePlane::kSpectacle:
      return EventWords::tr("%1 from where spectacles sit").arg(value);
    case ReferencePlane::kLateralCanthus:
      return EventWords::tr("%1 from the outer corner of the eye").arg(value);
    case ReferencePlane::kCentreOfRotation:
      return EventWords::tr("%1 from the centre of rotation").arg(value);
  }
  return {};
}

QString ForOtherPlane(ReferencePlane plane) {
  if (plane == ReferencePlane::kCorneal) return {};
  const double apart = MoveToPlane(Length(), plane, ReferencePlane::kCorneal).mm();
  const QString text = Centimeters(std::abs(apart));
  return apart > 0 ? EventWords::tr(
                         "At home this program counts from the front of the eye; there "
                         "the same near point reads %1 more.")
                         .arg(text)
                   : EventWords::tr(
                         "At home this program counts from the front of the eye; there "
                         "the same near point reads %1 less.")
                         .arg(text);
}

QString ForFinding(const ChildState& child) {
  if (child.needs_looking_after()) return EventWords::tr("needs looking after");
  if (child.conflict) return EventWords::tr("measured twice unseen");
  switch (child.finding) {
    case Finding::kNeedsLookingAfter:
      return EventWords::tr("needs looking after");
    case Finding::kWithin:
      return EventWords::tr("within the limit");
    case Finding::kSeeProfessional:
      return EventWords::tr("see a professional");
    case Finding::kMeasureAgain:
      return EventWords::tr("measure again");
    case Finding::kNotMeasured:
      return EventWords::tr("no number");
  }
  return {};
}

QString ForUnwritten(const EventContext& event) {
  if (!event.why_unwritten()) return {};
  return EventWords::tr(
             "%n entry (entries) of this station could not be written. Do not close the program: "
             "they are kept and tried again.",
             nullptr, event.unwritten()) +
         ' ' + ForError(*event.why_unwritten());
}

QString ForLink(const EventLink::Status& status) {
  if (status.alone) return EventWords::tr("This station works alone.");
  if (status.reached && status.locked > 0) {
    return EventWords::tr(
        "! Connected. The event is here and still locked: its key comes as soon as another station "
        "that has it is connected.");
  }
  if (status.reached) return EventWords::tr("✓ Connected. Everything is handed over.");
  return EventWords::tr("! No connection. Go on as usual: %n record(s) wait here and follow later.",
                        nullptr, status.waiting) +
         (status.why.isEmpty() ? QString() : "\n" + ForSentence(status.why.toStdString()));
}

QString ForYield(const Yield& yield, int children) {
  return EventWords::tr(
             "Of %1 children about %2 truly lie beyond the limit. By this rule about %3 are sent "
             "to a professional, %4 of them for nothing; %5 are measured again; %6 are missed.")
      .arg(children)
      .arg(Count(yield.beyond), Count(yield.referred), Count(yield.referred_wrong),
           Count(yield.again), Count(yield.missed));
}

}  // namespace nearpoint::words
