#include "app/window/clinic/clinic_words.h"

#include <QCoreApplication>
#include <QDateTime>
#include <cmath>

#include "app/measure/shown_number.h"
#include "app/window/exercise/days.h"
#include "app/window/language.h"

namespace nearpoint::words {
namespace {

class ClinicWords {
  Q_DECLARE_TR_FUNCTIONS(ClinicWords)
};

// The names of app/measure/criteria.cpp.
[[maybe_unused]] constexpr const char* kCriteria[] = {
    QT_TRANSLATE_NOOP("Criterion", "Sheard: the opposing reserve is at least twice the phoria"),
    QT_TRANSLATE_NOOP("Criterion",
                      "Exophoria at near exceeds that at far by 4 prism dioptres or more"),
    QT_TRANSLATE_NOOP("Criterion", "Near point of convergence 6 cm or farther"),
    QT_TRANSLATE_NOOP("Criterion",
                      "Positive fusional vergence fails Sheard or is 15 prism dioptres or less"),
    QT_TRANSLATE_NOOP("Criterion", "Symptom score 16 or more (9 to 17 years), 21 or more (adults)"),
    QT_TRANSLATE_NOOP("Criterion", "All four signs of the trial together"),
};

// The number alone; the unit stands once at the end.
QString Cm(double mm) { return QLocale().toString(RoundedForShow(mm / 10, 1), 'f', 1); }

QString WeekText(const Band& band) {
  return ClinicWords::tr("%1 a week, 95 % band %2 to %3")
      .arg(Centimeters(*band.value, 2), Centimeters(band.low, 2), Centimeters(*band.high, 2));
}

}  // namespace

QString ShortReason(Reason reason) {
  switch (reason) {
    case Reason::kSymptoms:
      return ClinicWords::tr("symptoms");
    case Reason::kWorse:
      return ClinicWords::tr("farther than before");
    case Reason::kBeyond:
      return ClinicWords::tr("beyond the limit");
    case Reason::kDisagreement:
      return ClinicWords::tr("eyes and report disagree");
    case Reason::kPoorQuality:
      return ClinicWords::tr("poor quality");
    case Reason::kExerciseStopped:
      return ClinicWords::tr("exercise stopped");
    case Reason::kMeasureDue:
      return ClinicWords::tr("measurement due");
  }
  return {};
}

QString LongReason(Reason reason) {
  switch (reason) {
    case Reason::kSymptoms:
      return ClinicWords::tr(
          "Symptoms were entered: discomfort or double vision that stayed, or a symptom score at "
          "or beyond its limit.");
    case Reason::kWorse:
      return ClinicWords::tr(
          "The near point lies farther away than before, by more than repeats without change "
          "give.");
    case Reason::kBeyond:
      return ClinicWords::tr("The band of the newest measurement lies beyond the limit.");
    case Reason::kDisagreement:
      return ClinicWords::tr("What was reported and what the eyes did tell different stories.");
    case Reason::kPoorQuality:
      return ClinicWords::tr(
          "The newest measurement rests on little: fewer than three trials count, more were set "
          "aside than count, or the camera saw the eyes in less than 80 % of the pictures.");
    case Reason::kExerciseStopped:
      return ClinicWords::tr("The plan asks for exercise, and none was done for %1 days.")
          .arg(kDaysWithoutExercise);
    case Reason::kMeasureDue:
      return ClinicWords::tr("The plan asked for a measurement that has not come.");
  }
  return {};
}

QString AnswerWord(Answer answer) {
  switch (answer) {
    case Answer::kBeyond:
      return ClinicWords::tr("beyond the limit");
    case Answer::kWithin:
      return ClinicWords::tr("within the limit");
    case Answer::kCannotTell:
      return ClinicWords::tr("cannot tell yet");
  }
  return {};
}

QString BandText(const std::optional<Band>& band) {
  if (!band) return ClinicWords::tr("no value");
  if (band->value && band->high) {
    return ClinicWords::tr("%1, 95 % band %2 to %3")
        .arg(Centimeters(*band->value), Cm(band->low), Cm(*band->high));
  }
  if (band->high) return ClinicWords::tr("at most %1").arg(Centimeters(*band->high));
  return ClinicWords::tr("at least %1").arg(Centimeters(band->low));
}

QString DayText(Day day) { return QLocale().toString(ToQDate(day), QLocale::ShortFormat); }

QString WhenText(const SessionDigest& digest) {
  const Day day{std::chrono::days(static_cast<int>(std::floor(digest.day)))};
  if (digest.started_at.empty()) {
    return ClinicWords::tr("day not stated, received %1").arg(DayText(day));
  }
  if (!digest.hour) return DayText(day);
  constexpr int kMinutes = 60;
  constexpr double kTolerance = 0.01;  // 7:50 is 7.833333 hours in a file
  const int minutes = static_cast<int>(std::floor(*digest.hour * kMinutes + kTolerance));
  return DayText(day) + ", " +
         QLocale().toString(QTime(minutes / kMinutes, minutes % kMinutes), QLocale::ShortFormat);
}

QString StateText(const SessionDigest& digest) {
  QStringList parts;
  if (digest.simulated) parts << ClinicWords::tr("simulated, nobody was measured");
  if (digest.accepted) parts << QStringLiteral("✓ ") + ClinicWords::tr("accepted");
  if (digest.changed) parts << ClinicWords::tr("changed by review");
  if (digest.eyes_disagree) parts << QStringLiteral("≠ ") + ShortReason(Reason::kDisagreement);
  if (PoorQuality(digest)) parts << QStringLiteral("! ") + ShortReason(Reason::kPoorQuality);
  if (digest.comfort == "double" || digest.comfort == "discomfort") {
    parts << QStringLiteral("! ") + ComfortWord(digest.comfort);
  }
  return parts.join(", ");
}

QString ComfortWord(const std::string& comfort) {
  if (comfort == "fine") return ClinicWords::tr("eyes felt fine afterwards");
  if (comfort == "tired") return ClinicWords::tr("eyes felt tired afterwards");
  if (comfort == "discomfort") return ClinicWords::tr("discomfort afterwards");
  if (comfort == "double") return ClinicWords::tr("double vision stayed afterwards");
  return ClinicWords::tr("how the eyes felt afterwards is not known");
}

QString CourseSentence(const TimeLine& line) {
  const Progress& progress = line.progress;
  if (progress.course == Course::kCannotTell || !progress.slope_mm_per_week ||
      !progress.slope_mm_per_week->value || !progress.slope_mm_per_week->high) {
    return ClinicWords::tr("A course needs measurements on two days at least.");
  }
  const QString rate = " (" + WeekText(*progress.slope_mm_per_week) + ")";
  QString text;
  switch (progress.course) {
    case Course::kNearer:
      text = ClinicWords::tr("The near point comes nearer over time") + rate + ".";
      break;
    case Course::kFarther:
      text = ClinicWords::tr("The near point moves away over time") + rate + ".";
      break;
    default:
      text = ClinicWords::tr("No change over time can be told") + rate + ".";
  }
  if (progress.bent) {
    text += ' ' + ClinicWords::tr("The measurements contradict a straight line.");
  }
  if (progress.repeatability_mm) {
    text += ' ' + ClinicWords::tr(
                      "Two single measurements that differ by less than %1 need not "
                      "differ at all.")
                      .arg(Centimeters(*progress.repeatability_mm));
  }
  return text;
}

QString AgreementWord(const std::string& agreement) {
  if (agreement == "agree") return ClinicWords::tr("report and eyes agree");
  if (agreement == "report without drift") {
    return ClinicWords::tr("reported two, but no eye was seen to drift");
  }
  if (agreement == "drift without report") {
    return ClinicWords::tr("an eye drifted and nothing was reported");
  }
  if (agreement == "agree: no break") {
    return ClinicWords::tr("single to the nearest point, and no eye drifted");
  }
  if (agreement == "apart") {
    return ClinicWords::tr("report and drift lie too far apart in time to be the same event");
  }
  if (agreement == "cannot tell") return ClinicWords::tr("the eyes were not seen well enough");
  if (agreement.empty()) return ClinicWords::tr("the eyes were not analysed");
  return QString::fromStdString(agreement);
}

QString StatusWord(Status status) {
  switch (status) {
    case Status::kMet:
      return ClinicWords::tr("met");
    case Status::kNotMet:
      return ClinicWords::tr("not met");
    case Status::kNotEnoughData:
      return ClinicWords::tr("not enough data");
  }
  return {};
}

QString CriterionName(std::string_view name) {
  return QCoreApplication::translate("Criterion", std::string(name).c_str());
}

QString StepText(const AuditEntry& entry) {
  const QString words = QString::fromStdString(entry.words);
  switch (entry.act) {
    case ReviewAct::kAccept:
      return ClinicWords::tr("accepted") + (words.isEmpty() ? QString() : ": " + words);
    case ReviewAct::kSetAside:
      return ClinicWords::tr("set trial %1 aside: %2").arg(entry.trial.value_or(0)).arg(words);
    case ReviewAct::kCount:
      return ClinicWords::tr("let trial %1 count: %2").arg(entry.trial.value_or(0)).arg(words);
    case ReviewAct::kNote:
      return ClinicWords::tr("noted: %1").arg(words);
  }
  return {};
}

}  // namespace nearpoint::words
