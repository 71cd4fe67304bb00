#include "app/window/exercise/exercise_words.h"

#include <QCoreApplication>
#include <QLocale>

#include "app/window/exercise/days.h"

namespace nearpoint::words {
namespace {

// Gives the sentences their context for translators.
struct ExerciseWords {
  Q_DECLARE_TR_FUNCTIONS(ExerciseWords)
};

}  // namespace

ExercisePrompt ForExercise(std::optional<CounterPhase> phase, bool reported) {
  if (!phase) {
    return {ExerciseWords::tr("Sit comfortably"),
            ExerciseWords::tr("The camera looks for your eyes and for how far you sit."),
            QString()};
  }
  switch (*phase) {
    case CounterPhase::kLookFar:
      return {ExerciseWords::tr("Look at the cross"),
              ExerciseWords::tr("Keep looking until the tone."),
              ExerciseWords::tr("Look at the cross.")};
    case CounterPhase::kBringNear:
      if (reported) {
        return {ExerciseWords::tr("Look at your fingertip"),
                ExerciseWords::tr("The hold runs while both eyes meet there."), QString()};
      }
      return {ExerciseWords::tr("Bring your finger in"),
              ExerciseWords::tr("Look at the fingertip. Space bar: the pair behind it has become "
                                "one, with both marks."),
              ExerciseWords::tr("Finger in. Press when the two have become one.")};
    case CounterPhase::kHold:
      return {ExerciseWords::tr("Hold it as one"),
              ExerciseWords::tr("Space bar: it falls apart. M: a mark is missing."),
              ExerciseWords::tr("Hold.")};
    case CounterPhase::kDone:
      return {ExerciseWords::tr("Done"), QString(),
              ExerciseWords::tr("Done. Look far away for a moment.")};
  }
  return {};
}

QString ForNotCounted(const Attempt& attempt) {
  if (!attempt.why) return {};
  switch (*attempt.why) {
    case NotCounted::kOnlyHandMoved:
      return ExerciseWords::tr(
          "Not counted: the camera did not see your eyes turn in. Look at your fingertip.");
    case NotCounted::kNotFarEnough:
      return ExerciseWords::tr(
          "Not counted: the camera saw your eyes turn in less than this pair needs.");
    case NotCounted::kTooNear:
      return ExerciseWords::tr(
          "Not counted: the camera saw your eyes turn in more than this pair needs.");
    case NotCounted::kOneEyeStayed:
      return ExerciseWords::tr("Not counted: your eyes did not stay on it together to the end.");
    case NotCounted::kOneEyeHidden:
      return ExerciseWords::tr("Not counted: the camera could see only one eye.");
    case NotCounted::kMarkMissing:
      return ExerciseWords::tr(
          "Not counted: you saw only one of the marks. Blink, look far away, and try again.");
    case NotCounted::kNotReported:
      return ExerciseWords::tr("Not counted: no key was pressed.");
    case NotCounted::kNotHeld:
      return ExerciseWords::tr("Not counted: it was not held as one for long enough.");
    case NotCounted::kNotSeen:
      return ExerciseWords::tr("Not counted: the camera lost sight of your eyes.");
    case NotCounted::kStopped:
      return ExerciseWords::tr("Stopped.");
  }
  return {};
}

QString ForWarning(CounterWarning warning) {
  switch (warning) {
    case CounterWarning::kEyesNotSeen:
      return ExerciseWords::tr("The camera cannot see your eyes.");
    // Which eye is for the clinician: here it would only frighten.
    case CounterWarning::kLeftHidden:
    case CounterWarning::kRightHidden:
      return ExerciseWords::tr("The camera sees only one of your eyes. Face it straight.");
    case CounterWarning::kLeftStopped:
    case CounterWarning::kRightStopped:
    case CounterWarning::kEyesDrifted:
      return ExerciseWords::tr("Do you still see both marks? If not, look far away and try again.");
    case CounterWarning::kOnlyHand:
      return ExerciseWords::tr("Look at your fingertip, not at the screen.");
    case CounterWarning::kTooNear:
      return ExerciseWords::tr("A little too near. Move your finger a little away.");
    case CounterWarning::kNotReported:
      return ExerciseWords::tr("Press the space bar when the two figures have become one.");
  }
  return {};
}

QString ForReminder(Reminder reminder) {
  switch (reminder) {
    case Reminder::kNotBegun:
      return ExerciseWords::tr("Your plan has not begun yet.");
    case Reminder::kOver:
      return ExerciseWords::tr(
          "Your plan has come to its end. Ask the person who set it how to go on.");
    case Reminder::kDoneToday:
      return ExerciseWords::tr("Today is done.");
    case Reminder::kEnough:
      return ExerciseWords::tr("This week has all its days. Today is a day of rest.");
    case Reminder::kDue:
      return ExerciseWords::tr("Today would be a good day for it.");
    case Reminder::kDueLate:
      return ExerciseWords::tr("Today would be a good day for it. Your plan says: in the morning.");
    case Reminder::kAskFirst:
      return ExerciseWords::tr("Do not exercise now: the start page says why.");
  }
  return {};
}

QString ForPlan(const ExercisePlan& plan) {
  QString text =
      ExerciseWords::tr("%n time(s)", nullptr, plan.repetitions) + ", " +
      ExerciseWords::tr("each held for %1 s").arg(QLocale().toString(plan.hold_s, 'g', 3));
  text += ", " + ExerciseWords::tr("on %n day(s) a week", nullptr, plan.days_per_week);
  if (plan.mornings) {
    text += ", " + ExerciseWords::tr("in the morning");
  }
  if (plan.until) {
    text += ", " + ExerciseWords::tr("until %1")
                       .arg(QLocale().toString(ToQDate(*plan.until), QLocale::ShortFormat));
  }
  return text;
}

QString ForPlanSource(const ExercisePlan& plan) {
  if (plan.source == PlanSource::kClinician) {
    return ExerciseWords::tr("Set by %1.").arg(QString::fromStdString(plan.set_by));
  }
  return ExerciseWords::tr(
      "Five days a week is what a published trial asked of children, 15 minutes a day for 12 weeks "
      "(CITT 2008); ten times with a count of three stands in a clinic's handout. The distances "
      "are "
      "this program's own choice. None of it was made for you: what your professional tells you "
      "comes first.");
}

}  // namespace nearpoint::words
