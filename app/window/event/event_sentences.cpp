#include <QCoreApplication>
#include <QRegularExpression>
#include <vector>

#include "app/window/event/event_words.h"

namespace nearpoint::words {
namespace {

constexpr const char* kContext = "EventSentences";

// Sentences as the rules say them, with places for what they name. The first that fits counts.
constexpr const char* kSentences[] = {
    // Of the desk
    QT_TRANSLATE_NOOP("EventSentences", "The event has no name; expected one."),
    QT_TRANSLATE_NOOP("EventSentences", "\"%1\" is no day; expected one like 2026-03-14."),
    QT_TRANSLATE_NOOP("EventSentences", "This child is not on the list of the event."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "Number %1 (line %2) is taken in this event; nothing was imported."),
    QT_TRANSLATE_NOOP("EventSentences", "Number %1 is taken in this event."),
    QT_TRANSLATE_NOOP("EventSentences", "A number is needed."),
    QT_TRANSLATE_NOOP("EventSentences", "\"%1\" is no number; expected %2."),
    QT_TRANSLATE_NOOP("EventSentences", "There is no consent for this child; nothing was kept."),
    QT_TRANSLATE_NOOP("EventSentences", "This station has measured nobody that could be undone."),
    QT_TRANSLATE_NOOP("EventSentences", "Neither of the two has a measurement to swap."),
    QT_TRANSLATE_NOOP("EventSentences", "Who goes on? A first name is enough."),
    QT_TRANSLATE_NOOP("EventSentences", "This measurement of the child does not stand."),
    QT_TRANSLATE_NOOP("EventSentences", "Nobody said that this child needs looking after."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1 needs looking after and is not measured; call the person in charge."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "This event was deleted by its organiser; nothing more can be recorded in "
                      "it."),
    QT_TRANSLATE_NOOP("EventSentences", "This event is not on this computer."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "This event is still locked here: its key comes as soon as another station "
                      "that has it is connected."),
    QT_TRANSLATE_NOOP(
        "EventSentences",
        "A record on the server does not go with the key of its event: it was changed "
        "there, or the event was begun anew elsewhere. Nothing of it was taken over."),
    QT_TRANSLATE_NOOP("EventSentences", "The number %1 was given to %2 children."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "A measurement of %1 belongs to a child that no station has listed yet."),
    // Of the store and the server
    QT_TRANSLATE_NOOP("EventSentences", "%1: the event's server cannot be reached (%2)."),
    QT_TRANSLATE_NOOP("EventSentences", "%1: the event's server is not reachable now (%2)."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: this is not the event's server, or its certificate is another one by "
                      "now; nothing was sent. Join with the file that the server's laptop wrote "
                      "when it was started (%2)."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: without its certificate nobody can tell whether this is the event's "
                      "server; join with the file that the server's laptop wrote."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "\"%1\" is no address of a server; expected "
                      "postgresql://USER@HOST:PORT/NAME."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: two stations carry the same identity; was the folder of one copied to "
                      "another laptop? Give the copy a fresh folder (%2)."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "Two laptops carry the same identity: the folder of a station was copied, "
                      "or taken back from an older copy. Nothing was merged; give one of them a "
                      "fresh folder with --data and export what only it holds."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: another window of this program is writing to it; try again (%2)."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: another window of this program is reading it; deleting goes on at the "
                      "next merge."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: traces of deleted children are still in this file; close every window "
                      "of this program and delete again."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: this file cannot be written; make room on the disk or check the "
                      "permissions (%2)."),
    // Of a roster: the whole file
    QT_TRANSLATE_NOOP("EventSentences",
                      "The roster has %1 faults; nothing was imported. Mend them in the file and "
                      "read it again."),
    QT_TRANSLATE_NOOP("EventSentences", "Column %1 was chosen; the file has %2."),
    QT_TRANSLATE_NOOP("EventSentences", "One column was chosen for two fields."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "No column is the number or the name; the first row must name the columns, "
                      "or choose them by hand."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "Column %1 (\"%2\") was not understood; say what it is, or that it is not "
                      "needed."),
    QT_TRANSLATE_NOOP("EventSentences", "There is no child below the first row."),
    QT_TRANSLATE_NOOP("EventSentences", "%1 rows; expected at most %2."),
    QT_TRANSLATE_NOOP("EventSentences", "%1: the file is damaged or cut off."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: the file is locked with a password; save it without one."),
    QT_TRANSLATE_NOOP("EventSentences", "%1: a sheet of this file is too large."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: the sheet is too large for a list of children; remove what does not "
                      "belong to it."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1: no sheet is in this file; expected a workbook (.xlsx, .ods) or a list "
                      "saved as CSV."),
    QT_TRANSLATE_NOOP("EventSentences", "%1: the sheet has no rows."),
    // A row
    QT_TRANSLATE_NOOP("EventSentences", "The names of the columns stand here once more."),
    QT_TRANSLATE_NOOP("EventSentences", "This looks like a sum and not like a child."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1 cells; expected %2 as in the first row (a separator inside a name needs "
                      "quotes)."),
    QT_TRANSLATE_NOOP("EventSentences", "%1 cells; expected %2 as in the first row."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "A quote stands where none belongs; expected it doubled, inside a quoted "
                      "cell."),
    QT_TRANSLATE_NOOP("EventSentences", "Neither a number nor a name; expected one of them."),
    QT_TRANSLATE_NOOP("EventSentences", "Number %1 has no name; expected one, or a row less."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "The age does not go with the day of birth; expected about %1 years."),
    QT_TRANSLATE_NOOP("EventSentences", "The number is missing; expected one for every child."),
    QT_TRANSLATE_NOOP("EventSentences", "Number %1 stands in line %2 already."),
    QT_TRANSLATE_NOOP("EventSentences", "%1 of the same class and age stands in line %2 already."),
    QT_TRANSLATE_NOOP("EventSentences",
                      "%1 stands in line %2 already, and nothing tells the two apart; expected a "
                      "class or an age."),
    // A cell
    QT_TRANSLATE_NOOP("EventSentences", "\"%1\"; expected %2."),
    QT_TRANSLATE_NOOP("EventSentences", "one line"),
    QT_TRANSLATE_NOOP("EventSentences", "letters; one was lost when the file was saved"),
    QT_TRANSLATE_NOOP("EventSentences", "letters without hidden characters"),
    QT_TRANSLATE_NOOP("EventSentences", "a value; the spreadsheet could not compute it"),
    QT_TRANSLATE_NOOP("EventSentences", "letters; this was saved in the wrong encoding once"),
    QT_TRANSLATE_NOOP("EventSentences", "a name, not a formula"),
    QT_TRANSLATE_NOOP("EventSentences", "a name, not an address"),
    QT_TRANSLATE_NOOP("EventSentences", "a name, or an empty cell and a number"),
    QT_TRANSLATE_NOOP("EventSentences", "a name without digits"),
    QT_TRANSLATE_NOOP("EventSentences", "at most %1 letters"),
    QT_TRANSLATE_NOOP("EventSentences", "letters, digits and hyphens, at most 16"),
    QT_TRANSLATE_NOOP("EventSentences",
                      "the whole number; the spreadsheet shortened it and its digits are lost"),
    QT_TRANSLATE_NOOP("EventSentences", "a whole number"),
    QT_TRANSLATE_NOOP("EventSentences", "an age of %1 to %2 years, not a year"),
    QT_TRANSLATE_NOOP("EventSentences", "an age of %1 to %2 years"),
    QT_TRANSLATE_NOOP("EventSentences",
                      "a day of birth like 2017-03-14 or 14.03.2017; this is a day as a "
                      "spreadsheet counts it: format the column as a date and save again"),
    QT_TRANSLATE_NOOP("EventSentences",
                      "a day of birth like 2017-03-14 or 14.03.2017, with four digits of the "
                      "year"),
    QT_TRANSLATE_NOOP("EventSentences",
                      "a day of birth like 2017-03-14 or 14.03.2017; with slashes, day and month "
                      "cannot be told apart here"),
    QT_TRANSLATE_NOOP("EventSentences",
                      "a day of birth like 2017-03-14 or 14.03.2017; there is no such day"),
    QT_TRANSLATE_NOOP("EventSentences",
                      "a day of birth like 2017-03-14 or 14.03.2017, before the event"),
    QT_TRANSLATE_NOOP("EventSentences", "a day of birth like 2017-03-14 or 14.03.2017"),
    QT_TRANSLATE_NOOP("EventSentences", "yes or no, or an empty cell where nobody asked"),
};

struct Pattern {
  const char* sentence;
  QRegularExpression expression;
};

const std::vector<Pattern>& Patterns() {
  static const std::vector<Pattern> patterns = [] {
    std::vector<Pattern> made;
    for (const char* sentence : kSentences) {
      QString expression = QRegularExpression::escape(QString::fromUtf8(sentence));
      expression.replace("\\%1", "(.*)").replace("\\%2", "(.*)");
      made.push_back(
          {sentence, QRegularExpression(QRegularExpression::anchoredPattern(expression),
                                        QRegularExpression::DotMatchesEverythingOption)});
    }
    return made;
  }();
  return patterns;
}

}  // namespace

QString ForSentence(const std::string& sentence) {
  QString text = QString::fromStdString(sentence);
  for (const Pattern& pattern : Patterns()) {
    const auto match = pattern.expression.match(text);
    if (!match.hasMatch()) continue;
    QString said = QCoreApplication::translate(kContext, pattern.sentence);
    const int places = match.lastCapturedIndex();
    if (places == 0) return said;
    if (places == 1) return said.arg(match.captured(1));
    // What was expected of a cell is a phrase of its own.
    const QString second = match.captured(2);
    return said.arg(match.captured(1),
                    text.startsWith('"') ? ForSentence(second.toStdString()) : second);
  }
  return text;
}

}  // namespace nearpoint::words
