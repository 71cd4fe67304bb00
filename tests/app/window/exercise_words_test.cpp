// Every sentence of the exercise has its German, and every value its place in it.
#include "app/window/exercise/exercise_words.h"

#include <gmock/gmock.h>

#include <QFile>
#include <QRegularExpression>
#include <QXmlStreamReader>
#include <set>

#include "app/print/pair_figure.h"
#include "app/window/language.h"

namespace nearpoint {
namespace {

std::set<QString> Places(const QString& text) {
  std::set<QString> places;
  auto found = QRegularExpression("%(n|\\d)").globalMatch(text);
  while (found.hasNext()) places.insert(found.next().captured());
  return places;
}

TEST(ExerciseWords, GermanIsComplete) {
  QFile file(NEARPOINT_EXERCISE_TS);
  ASSERT_TRUE(file.open(QIODevice::ReadOnly));
  QXmlStreamReader xml(&file);
  QString source;
  int sentences = 0;
  while (!xml.atEnd()) {
    if (xml.readNext() != QXmlStreamReader::StartElement) continue;
    if (xml.name() == u"source") source = xml.readElementText();
    if (xml.name() == u"translation") {
      ++sentences;
      EXPECT_FALSE(xml.attributes().hasAttribute("type")) << source.toStdString();
      const QString text = xml.readElementText(QXmlStreamReader::IncludeChildElements);
      EXPECT_FALSE(text.trimmed().isEmpty()) << source.toStdString();
      EXPECT_EQ(Places(text), Places(source)) << source.toStdString();
    }
  }
  EXPECT_GT(sentences, 120);
}

TEST(ExerciseWords, SpeaksBothLanguagesWithTheirPlurals) {
  const ExercisePlan plan = CommonPracticePlan();
  UseLanguage("en");
  EXPECT_EQ(words::ForPlan(plan), "10 times, each held for 3 s, on 5 days a week");
  UseLanguage("de");
  EXPECT_EQ(words::ForPlan(plan), "10-mal, je 3 s gehalten, an 5 Tagen in der Woche");
  ExercisePlan once = plan;
  once.days_per_week = 1;
  EXPECT_TRUE(words::ForPlan(once).contains("an 1 Tag in der Woche"));
  UseLanguage("en");
  EXPECT_TRUE(words::ForPlan(once).contains("on 1 day a week"));
}

// The person hears what was seen and what to do; which eye it was is for the clinician.
TEST(ExerciseWords, NoEyeIsNamedAndNothingIsClaimed) {
  for (const char* language : {"en", "de"}) {
    UseLanguage(language);
    QStringList said;
    for (int i = 0; i <= static_cast<int>(NotCounted::kStopped); ++i) {
      for (const auto eye : {DriftingEye::kLeft, DriftingEye::kRight}) {
        Attempt attempt;
        attempt.why = static_cast<NotCounted>(i);
        attempt.eye = eye;
        said << words::ForNotCounted(attempt);
      }
    }
    for (int i = 0; i <= static_cast<int>(CounterWarning::kNotReported); ++i) {
      said << words::ForWarning(static_cast<CounterWarning>(i));
    }
    for (const int reminder : {0, 1, 2, 3, 4, 5, 6}) {
      said << words::ForReminder(static_cast<Reminder>(reminder));
    }
    said << words::ForPlanSource(CommonPracticePlan());
    for (const QString& sentence : said) {
      for (const char* word : {"left eye", "right eye", "linkes", "rechtes", "linke", "rechte",
                               "only the hand", "nur die Hand", "not taking part", "turned out",
                               "Mornings are better", "tire by evening"}) {
        EXPECT_FALSE(sentence.contains(word)) << sentence.toStdString();
      }
    }
  }
  UseLanguage("en");
}

TEST(ExerciseWords, EveryReasonAndWarningIsASentence) {
  for (const char* language : {"en", "de"}) {
    UseLanguage(language);
    for (int i = 0; i <= static_cast<int>(NotCounted::kStopped); ++i) {
      Attempt attempt;
      attempt.why = static_cast<NotCounted>(i);
      EXPECT_TRUE(words::ForNotCounted(attempt).endsWith('.')) << i;
    }
    for (int i = 0; i <= static_cast<int>(CounterWarning::kNotReported); ++i) {
      EXPECT_FALSE(words::ForWarning(static_cast<CounterWarning>(i)).isEmpty()) << i;
    }
  }
  UseLanguage("en");
}

// Relative luminance and contrast as WCAG 2 defines them.
double Luminance(const QColor& color) {
  const auto linear = [](double c) {
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear(color.redF()) + 0.7152 * linear(color.greenF()) +
         0.0722 * linear(color.blueF());
}

// The marks stand out from the white ground (3:1 for graphics, WCAG 2.1, 1.4.11), and their
// difference lies in blue against yellow, which red-green deficiency leaves: of two colours that
// only red and green tell apart the blue parts are alike.
TEST(PairFigure, MarksAreSeenWithoutRedAndGreen) {
  for (const QColor& color : {kDiscColor, kBarColor, kPairInk}) {
    EXPECT_GE(1.05 / (Luminance(color) + 0.05), 3.0) << color.name().toStdString();
  }
  const auto blue_less_yellow = [](const QColor& c) {
    return c.blueF() - (c.redF() + c.greenF()) / 2;
  };
  EXPECT_GT(blue_less_yellow(kDiscColor) - blue_less_yellow(kBarColor), 0.8);
}

}  // namespace
}  // namespace nearpoint
