#include "app/window/safety_words.h"

#include <QCoreApplication>

#include "app/report/plane_note.h"
#include "app/window/language.h"

namespace nearpoint::words {
namespace {

struct Words {
  Q_DECLARE_TR_FUNCTIONS(SafetyWords)
};

QString Said(std::string (*rule)(WordsIn)) { return QString::fromStdString(rule(WordsInUse())); }

}  // namespace

WordsIn WordsInUse() { return LanguageInUse() == "de" ? WordsIn::kGerman : WordsIn::kEnglish; }

QString DoubleVision() { return Said(DoubleVisionRule); }
QString OtherSigns() { return Said(OtherSignsRule); }
QString Help() { return Said(HelpRule); }
QString StopAtOnce() { return Said(StopRule); }
QString OnlyAsSaid() { return Said(OnlyWithProfessionalRule); }

QStringList Lines(std::vector<std::string> (*list)(WordsIn)) {
  QStringList lines;
  for (const std::string& line : list(WordsInUse())) lines << QString::fromStdString(line);
  return lines;
}

QString ForQuestion(SafetyQuestion question) {
  switch (question) {
    case SafetyQuestion::kDoubleVision:
      return Words::tr("Did double vision begin suddenly, or is it there all the time?");
    case SafetyQuestion::kSigns:
      return Words::tr(
          "Do you have a drooping lid, unequal pupils, weakness, numbness or trouble speaking, or "
          "did your sight suddenly get worse?");
    case SafetyQuestion::kPain:
      return Words::tr("Does an eye hurt, or do you have a new kind of headache?");
    case SafetyQuestion::kHeadBlow:
      return Words::tr("Did you have a blow to the head or a concussion in the last weeks?");
    case SafetyQuestion::kSquint:
      return Words::tr("Do you have a squint, a weak (\"lazy\") eye, or eyes that tremble?");
    case SafetyQuestion::kOperation:
      return Words::tr(
          "Did you have an operation on an eye, or do you have a disease of the "
          "nerves?");
    case SafetyQuestion::kAgreed:
      return Words::tr("Did an eye-care professional who knows about it say that you may do this?");
    case SafetyQuestion::kNewToday:
      return Words::tr(
          "Is anything new: pain, a headache, double vision, a blow to the head, or another sign?");
    case SafetyQuestion::kAdultBeside:
      return Words::tr("Does an adult sit beside you now, and stay?");
    case SafetyQuestion::kToldToExercise:
      return Words::tr("Did your eye-care professional tell you to exercise?");
  }
  return {};
}

QString ForStop(Stop stop) {
  switch (stop) {
    case Stop::kNone:
      return {};
    case Stop::kAskFirst:
      return Words::tr(
          "Please do not measure or exercise now. Ask your eye-care professional "
          "first whether you may.");
    case Stop::kBeSeen:
      return Words::tr("Please do not measure or exercise now.") + ' ' + Help();
  }
  return {};
}

QString ForTrouble() {
  return Words::tr(
             "Last time your eyes hurt, you felt sick or dizzy, or you still saw two. Please "
             "do not go on before you have asked somebody.") +
         ' ' + Help();
}

QString PlaneNoteAtHome() {
  return QString::fromStdString(
      PlaneNote(ReferencePlane::kCorneal, ReferencePlane::kSpectacle, WordsInUse()));
}

// Children of 9 to 17 with convergence insufficiency, 12 weeks: CITT, Arch Ophthalmol 2008.
QString PublishedOnExercise() {
  return Words::tr(
      "What is published: in the largest trial, with children, 43 of 100 were better after 12 "
      "weeks of push-ups at home, 35 of 100 after exercises made to do nothing, and 73 of 100 "
      "after training with a professional (CITT 2008).");
}

}  // namespace nearpoint::words
