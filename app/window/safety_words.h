// Sentences that stand in several parts of the program (app/safety, app/report/plane_note.h), and
// the questions before a measurement, in the language of the window.
#pragma once

#include <QString>
#include <QStringList>

#include "app/safety/help_rule.h"
#include "app/safety/safety_check.h"

namespace nearpoint::words {

[[nodiscard]] WordsIn WordsInUse();

[[nodiscard]] QString DoubleVision();  // DoubleVisionRule, and so on
[[nodiscard]] QString OtherSigns();
[[nodiscard]] QString Help();
[[nodiscard]] QString StopAtOnce();
[[nodiscard]] QString OnlyAsSaid();
[[nodiscard]] QStringList Lines(std::vector<std::string> (*list)(WordsIn));

// The question as it is asked; each is answered by yes or no.
[[nodiscard]] QString ForQuestion(SafetyQuestion question);
// Why nobody measures or exercises, and what to do; empty for kNone.
[[nodiscard]] QString ForStop(Stop stop);
// The same after pain, or double vision that stayed.
[[nodiscard]] QString ForTrouble();
// From where the numbers at home are counted, for whoever has a letter from a school event too.
[[nodiscard]] QString PlaneNoteAtHome();
// What is published of exercising alone at home.
[[nodiscard]] QString PublishedOnExercise();

}  // namespace nearpoint::words
