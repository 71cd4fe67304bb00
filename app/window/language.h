// Which language the window speaks, with its number and date formats.
#pragma once

#include <QDateTime>
#include <QLocale>
#include <QString>
#include <vector>

namespace nearpoint {

struct Language {
  QString code;  // "en", "de"
  QString name;  // in that language
};
[[nodiscard]] std::vector<Language> Languages();

// code: one of Languages(); anything else, "" among it, takes the machine's language where it is
// one of them and English where not. Widgets that exist keep their texts until they are made anew.
void UseLanguage(const QString& code);
[[nodiscard]] QString LanguageInUse();

// "8.2 cm" in the person's number format.
[[nodiscard]] QString Centimeters(double mm, int decimals = 1);

// "Saturday, 14 March 2026, 9:26" in the person's format and hour. utc: as the store has it.
[[nodiscard]] QString MomentText(const QDateTime& utc);

}  // namespace nearpoint
