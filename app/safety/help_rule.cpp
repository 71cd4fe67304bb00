#include "app/safety/help_rule.h"

namespace nearpoint {
namespace {

bool English(WordsIn words) { return words == WordsIn::kEnglish; }

}  // namespace

std::string DoubleVisionRule(WordsIn words) {
  return English(words)
             ? "Double vision that stays: go to an emergency department at once if it came "
               "suddenly, if there is a drooping lid, unequal pupils, weakness, numbness or "
               "trouble speaking, or after a blow to the head. Otherwise see a doctor today."
             : "Doppelbilder, die bleiben: sofort in die Notaufnahme, wenn sie plötzlich kamen, "
               "wenn ein Lid hängt, die Pupillen ungleich sind oder Schwäche, Taubheit oder "
               "Mühe beim Sprechen dabei ist, oder nach einem Schlag auf den Kopf. Sonst noch "
               "heute in eine Arztpraxis.";
}

std::string OtherSignsRule(WordsIn words) {
  return English(words)
             ? "Sight that is suddenly worse, or pupils that are suddenly unequal: go to an "
               "emergency department at once. Pain in or behind an eye, or a new kind of "
               "headache: see a doctor today."
             : "Sehen, das plötzlich schlechter ist, oder Pupillen, die plötzlich ungleich sind: "
               "sofort in die Notaufnahme. Schmerzen im oder hinter einem Auge oder neuartige "
               "Kopfschmerzen: noch heute in eine Arztpraxis.";
}

std::string HelpRule(WordsIn words) {
  return DoubleVisionRule(words) + ' ' + OtherSignsRule(words);
}

std::vector<std::string> EmergencySigns(WordsIn words) {
  if (English(words)) {
    return {"double vision that came suddenly, or after a blow to the head",
            "double vision with a drooping lid, unequal pupils, weakness, numbness or trouble "
            "speaking",
            "sight that is suddenly worse, or pupils that are suddenly unequal"};
  }
  return {"Doppelbilder, die plötzlich kamen, oder nach einem Schlag auf den Kopf",
          "Doppelbilder mit hängendem Lid, ungleichen Pupillen, Schwäche, Taubheit oder Mühe beim "
          "Sprechen",
          "Sehen, das plötzlich schlechter ist, oder Pupillen, die plötzlich ungleich sind"};
}

std::vector<std::string> TodaySigns(WordsIn words) {
  if (English(words)) {
    return {"any other double vision that stays", "pain in or behind an eye",
            "a new kind of headache"};
  }
  return {"andere Doppelbilder, die bleiben", "Schmerzen im oder hinter einem Auge",
          "neuartige Kopfschmerzen"};
}

std::vector<std::string> StopSigns(WordsIn words) {
  if (English(words)) {
    return {"it hurts, or there is a headache", "you feel sick or dizzy",
            "double vision stays after you stop"};
  }
  return {"es weh tut oder der Kopf schmerzt", "Übelkeit oder Schwindel kommt",
          "danach alles doppelt bleibt"};
}

std::string StopRule(WordsIn words) {
  return English(words)
             ? "Stop at once when it hurts, with a headache, when you feel sick or dizzy, or when "
               "double vision stays after you stop."
             : "Sofort aufhören, wenn es weh tut, bei Kopfschmerzen, Übelkeit oder Schwindel, oder "
               "wenn danach alles doppelt bleibt.";
}

std::vector<std::string> OnlyWithProfessional(WordsIn words) {
  if (English(words)) {
    return {"a squint, a weak (\"lazy\") eye, or eyes that tremble",
            "an operation on an eye or its muscles",
            "a disease of the nerves, or a concussion not long ago"};
  }
  return {"Schielen, ein schwaches („faules“) Auge oder zitternde Augen",
          "eine Operation an einem Auge oder an seinen Muskeln",
          "eine Krankheit der Nerven oder eine Gehirnerschütterung vor nicht langer Zeit"};
}

std::string OnlyWithProfessionalRule(WordsIn words) {
  return English(words)
             ? "With a squint, a weak eye, trembling eyes, after an operation on an eye, with a "
               "disease of the nerves or after a concussion: only as an eye-care professional "
               "says. A child under twelve: only with an adult."
             : "Bei Schielen, einem schwachen Auge oder zitternden Augen, nach einer "
               "Augenoperation, bei einer Krankheit der Nerven oder nach einer "
               "Gehirnerschütterung: nur so, wie es die Augenpraxis sagt. Ein Kind unter zwölf: "
               "nur mit einem Erwachsenen.";
}

}  // namespace nearpoint
