#include "app/event_export/letter_words.h"

#include <cmath>

#include "app/measure/shown_number.h"
#include "app/safety/help_rule.h"

namespace nearpoint {
namespace {

// A tenth of a centimetre, rounded as in every window.
std::string Rounded(double mm, LetterLanguage language) {
  std::string words = ShownCentimeters(mm);
  if (language == LetterLanguage::kGerman) words.replace(words.find('.'), 1, ",");
  return words;
}

std::string Centimetres(double corneal_mm, ReferencePlane plane, LetterLanguage language) {
  const double mm =
      MoveToPlane(Length::Millimeters(corneal_mm), ReferencePlane::kCorneal, plane).mm();
  return Rounded(mm, language);
}

// "14.03.2026" for 2026-03-14.
std::string DayText(const std::string& day, LetterLanguage language) {
  constexpr std::size_t kIsoDay = 10;
  if (language == LetterLanguage::kEnglish || day.size() != kIsoDay) return day;
  return day.substr(8, 2) + "." + day.substr(5, 2) + "." + day.substr(0, 4);
}

std::string PlaneText(ReferencePlane plane, LetterLanguage language) {
  const bool german = language == LetterLanguage::kGerman;
  switch (plane) {
    case ReferencePlane::kCorneal:
      return german ? "von der Hornhaut an gemessen" : "counted from the front of the eyes";
    case ReferencePlane::kSpectacle:
      return german ? "von der Ebene einer Brille an gemessen"
                    : "counted from where spectacles sit";
    case ReferencePlane::kLateralCanthus:
      return german ? "vom äußeren Augenwinkel an gemessen"
                    : "counted from the outer corner of the eye";
    case ReferencePlane::kCentreOfRotation:
      return german ? "vom Drehpunkt der Augen an gemessen"
                    : "counted from the centre of rotation of the eyes";
  }
  return "";
}

// The program at home counts from the front of the eyes: whoever measures there as well compares
// two numbers of the same eyes.
std::string OtherPlaneText(ReferencePlane plane, LetterLanguage language) {
  const double apart = MoveToPlane(Length(), plane, ReferencePlane::kCorneal).mm();
  if (plane == ReferencePlane::kCorneal) return {};
  const bool german = language == LetterLanguage::kGerman;
  const std::string text = Rounded(std::abs(apart), language);
  const bool more = apart > 0;
  return german ? " Zu Hause zählt dieses Programm von der Vorderseite der Augen an; derselbe "
                  "Nahpunkt ist dort um " +
                      text + (more ? " größer." : " kleiner.")
                : " At home this program counts from the front of the eyes; there the same near "
                  "point reads " +
                      text + (more ? " more." : " less.");
}

std::string ResultText(const ChildState& child, const EventOpened& event, LetterLanguage language) {
  const bool german = language == LetterLanguage::kGerman;
  const bool no_number = !child.counts || child.finding == Finding::kNotMeasured ||
                         (child.needs_looking_after() &&
                          child.measurements[*child.counts].finding == Finding::kNotMeasured);
  if (no_number) {
    return german ? "Es kam keine Messung zustande, die zählt."
                  : "No measurement came about that counts.";
  }
  const ChildMeasured& what = child.measurements[*child.counts].what;
  const ReferencePlane plane = event.rule.plane;
  const auto cm = [&](double mm) { return Centimetres(mm, plane, language); };
  const std::string limit = cm(what.cut_off_mm);
  if (child.conflict) {
    return german ? "Ihr Kind wurde an zwei Plätzen gemessen; die beiden Messungen stehen noch "
                    "nebeneinander."
                  : "Your child was measured at two places; the two measurements still stand side "
                    "by side.";
  }
  std::string text;
  if (what.break_mm && what.low_mm && what.high_mm) {
    text = german ? "Nahpunkt: " + cm(*what.break_mm) + ", sehr wahrscheinlich zwischen " +
                        cm(*what.low_mm) + " und " + cm(*what.high_mm)
                  : "Near point: " + cm(*what.break_mm) + ", very likely between " +
                        cm(*what.low_mm) + " and " + cm(*what.high_mm);
  } else if (what.high_mm) {
    text = german ? "Nahpunkt: näher als " + cm(*what.high_mm)
                  : "Near point: nearer than " + cm(*what.high_mm);
  } else {
    text = german ? "Nahpunkt: weiter als der Beginn der Messung"
                  : "Near point: farther than where the measurement began";
  }
  text += " (" + PlaneText(plane, language) + "). ";
  text += german ? "Verglichen wurde mit der Grenze von " + limit + "."
                 : "It was held against the limit of " + limit + ".";
  text += OtherPlaneText(plane, language);
  if (child.needs_looking_after()) {
    text += german ? " Dieser Wert ändert nichts an dem Rat unten."
                   : " This number changes nothing about the advice below.";
  }
  if (what.basis == Basis::kEyes) {
    text += german ? " Ihr Kind hat nichts gemeldet; der Wert stammt allein aus der Stellung der "
                     "Augen."
                   : " Your child reported nothing; the value comes from the eyes alone.";
  }
  return text;
}

// A number that two stations gave is of two children: what is known of how this one came.
std::string WhichOfTwo(const ChildState& child, LetterLanguage language) {
  if (!child.number_shared) return {};
  const bool german = language == LetterLanguage::kGerman;
  constexpr std::size_t kTime = 11, kMinutes = 5;
  std::string text = german ? " (aufgenommen" : " (added";
  if (child.added_at.size() >= kTime + kMinutes) {
    text += (german ? " um " : " at ") + child.added_at.substr(kTime, kMinutes) + " UTC";
  }
  if (!child.added_by.empty()) text += (german ? " von " : " by ") + child.added_by;
  return text + (german ? "; dieselbe Nummer trägt noch ein Kind)"
                        : "; another child has the same number)");
}

std::string AdviceText(Finding finding, LetterLanguage language) {
  const bool german = language == LetterLanguage::kGerman;
  switch (finding) {
    case Finding::kNeedsLookingAfter:
      return german ? "Bei der Messung wurde etwas gesagt oder gesehen, das vor jeder Zahl kommt: "
                      "Schmerzen, Doppeltsehen, neue Kopfschmerzen, ein Schlag auf den Kopf oder "
                      "ein Schielen, das behandelt wird. Die Leitung der Messung sagt Ihnen, was "
                      "es war. Bitte lassen Sie Ihr Kind untersuchen: noch heute, es sei denn, "
                      "es geht allein um ein Schielen, das schon behandelt wird. Nehmen Sie diesen "
                      "Brief mit."
                    : "Something was said or seen at the measurement that comes before any number: "
                      "pain, double vision, a new headache, a blow to the head, or a squint that "
                      "is being treated. The person in charge tells you what it was. Please have "
                      "your child examined: today, unless it is only about a squint that is "
                      "already being treated. Take this letter along.";
    case Finding::kWithin:
      return german
                 ? "Der Nahpunkt lag innerhalb der Grenze. Wegen dieser einen Messung ist "
                   "nichts zu tun."
                 : "The near point was within the limit. Because of this one measurement nothing "
                   "needs to be done.";
    case Finding::kSeeProfessional:
      return german ? "Der Nahpunkt lag jenseits der Grenze. Bitte lassen Sie die Augen Ihres "
                      "Kindes von einer Fachperson untersuchen (Augenarztpraxis, Orthoptik, "
                      "Optometrie) und nehmen Sie diesen Brief mit. Es eilt nicht, außer bei den "
                      "Zeichen unten."
                    : "The near point was beyond the limit. Please have your child's eyes examined "
                      "by an eye-care professional and take this letter along. It is not urgent, "
                      "but for the signs below.";
    case Finding::kMeasureAgain:
      return german ? "Die Messung lässt es offen, auf welcher Seite der Grenze der Nahpunkt "
                      "liegt. Bitte lassen Sie ihn noch einmal messen."
                    : "The measurement cannot tell on which side of the limit the near point lies. "
                      "Please have it measured again.";
    case Finding::kNotMeasured:
      return german ? "Das sagt nichts über die Augen Ihres Kindes. Bitte lassen Sie die Messung "
                      "wiederholen."
                    : "This says nothing about your child's eyes. Please have the measurement "
                      "repeated.";
  }
  return "";
}

}  // namespace

LetterWords LetterFor(const ChildState& child, const EventOpened& event, LetterLanguage language) {
  const bool german = language == LetterLanguage::kGerman;
  LetterWords words;
  // The share beyond it is published for this limit alone.
  const bool published = event.rule.norm == "hayes-1998";
  const std::string who =
      child.child.name.empty()
          ? (german ? "des Kindes mit der Nummer " : "the child with the number ") +
                child.child.number + WhichOfTwo(child, language)
          : (german ? "von " : "") + child.child.name +
                (child.child.group.empty() ? "" : " (" + child.child.group + ")");
  const std::string day = DayText(event.day, language);
  if (german) {
    words.title = "Messung des Nahpunkts: " + event.name + ", " + day;
    words.to = "An die Eltern " + who;
    words.what =
        "Gemessen wurde, wie nahe etwas den Augen kommen kann, bevor es doppelt erscheint oder ein "
        "Auge es verlässt (der Nahpunkt der Konvergenz). Eine Kamera folgte beiden Augen; Bilder "
        "wurden nicht gespeichert.";
    words.cautions = {
        "Das ist eine Reihenmessung und keine Diagnose. Sie ersetzt keine Untersuchung der Augen "
        "und sagt nichts über Sehschärfe, Brille oder Krankheiten.",
        "Jede Messung kann irren." + (published
                                          ? " Bis zu etwa eines von sieben Schulkindern liegt "
                                            "jenseits dieser Grenze (Hayes und andere, 1998)."
                                          : std::string()),
        HelpRule(WordsIn::kGerman)};
    words.sign = "Fragen beantwortet: ______________________________";
  } else {
    words.title = "Near point measurement: " + event.name + ", " + day;
    words.to = "To the parents of " + who;
    words.what =
        "We measured how near something can come to the eyes before it is seen double or one eye "
        "leaves it (the near point of convergence). A camera followed both eyes; no pictures were "
        "stored.";
    words.cautions = {
        "This is a screening measurement and not a diagnosis. It does not replace an eye "
        "examination and says nothing about sharpness of sight, glasses or diseases.",
        "Every measurement can be wrong." +
            (published
                 ? " Up to about one in seven schoolchildren lies beyond this limit (Hayes et "
                   "al. 1998)."
                 : std::string()),
        HelpRule(WordsIn::kEnglish)};
    words.sign = "Questions are answered by: ______________________________";
  }
  words.result = ResultText(child, event, language);
  words.advice = AdviceText(child.finding, language);
  return words;
}

}  // namespace nearpoint
