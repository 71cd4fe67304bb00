#include "app/window/language.h"

#include <QCoreApplication>
#include <QDir>
#include <QTranslator>
#include <algorithm>
#include <memory>

#include "app/measure/shown_number.h"

namespace nearpoint {
namespace {

QString in_use = "en";

// Those that are installed. Owned by the application, so that they go with it.
std::vector<QTranslator*>& Installed() {
  static std::vector<QTranslator*> installed;
  return installed;
}

QString Known(const QString& code) {
  const auto languages = Languages();
  const auto known = [&](const QString& wanted) {
    return std::ranges::any_of(languages, [&](const Language& l) { return l.code == wanted; });
  };
  if (known(code)) return code;
  const QString machine = QLocale::system().name().section('_', 0, 0);
  return known(machine) ? machine : "en";
}

}  // namespace

std::vector<Language> Languages() { return {{"en", "English"}, {"de", "Deutsch"}}; }

void UseLanguage(const QString& code) {
  in_use = Known(code);
  // The machine's formats where they are of that language (en_GB), else the language's own.
  const QLocale machine = QLocale::system();
  const QLocale wanted(in_use);
  QLocale::setDefault(machine.language() == wanted.language() ? machine : wanted);
  for (QTranslator* translator : Installed()) {
    QCoreApplication::removeTranslator(translator);
    delete translator;
  }
  Installed().clear();
  // One file for each part of the window.
  const QDir folder(":/i18n");
  for (const QString& file : folder.entryList({"*_" + in_use + ".qm"})) {
    auto translator = std::make_unique<QTranslator>(qApp);
    if (!translator->load(folder.filePath(file))) continue;
    QCoreApplication::installTranslator(translator.get());
    Installed().push_back(translator.release());
  }
}

QString LanguageInUse() { return in_use; }

QString Centimeters(double mm, int decimals) {
  // A blank that does not break between the number and its unit.
  return QLocale().toString(RoundedForShow(mm / 10, decimals), 'f', decimals) + QChar(0xa0) +
         QStringLiteral("cm");
}

QString MomentText(const QDateTime& utc) {
  const QDateTime here = utc.toLocalTime();
  const QLocale locale;
  return locale.toString(here.date(), QLocale::LongFormat) + ", " +
         locale.toString(here.time(), QLocale::ShortFormat);
}

}  // namespace nearpoint
