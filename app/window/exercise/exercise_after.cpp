#include "app/window/exercise/exercise_after.h"

#include <QFrame>
#include <QLabel>
#include <QLocale>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/comfort_answers.h"
#include "app/window/exercise/exercise_words.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {

ExerciseAfter::ExerciseAfter(const ExerciseSummary& summary, bool practice, QWidget* parent)
    : QWidget(parent) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(look::Px(12));
  // The question first: all of its answers are in view, whatever the size of the text.
  question_ = parts::BigText(ComfortQuestion(), look::IsLarge() ? look::Body() : look::Large());
  question_->setObjectName("question");
  column->addWidget(question_);
  answers_ = NewComfortAnswers();
  connect(answers_, &Answers::Given, this, &ExerciseAfter::Answered);
  column->addWidget(answers_);
  column->addWidget(parts::BigText(
      tr("%1 of %2 repetitions counted").arg(summary.counted).arg(summary.asked), look::Heading()));
  QFrame* const card = parts::Card(QString());
  QVBoxLayout* const lines = parts::LayoutOf(card);
  if (summary.counted > 0) {
    lines->addWidget(parts::Text(
        tr("Held as one for %1 s in all.").arg(QLocale().toString(summary.held_s, 'f', 0))));
  }
  if (summary.fusing_s) {
    lines->addWidget(parts::Text(tr("The two became one after %1 s (the middle of all).")
                                     .arg(QLocale().toString(*summary.fusing_s, 'f', 1))));
  }
  if (summary.reach) {
    const double half = 1.96 * summary.reach->sd.mm();
    lines->addWidget(
        parts::Text(tr("Nearest pair held: %1 from the eyes (95 % band %2 to %3).")
                        .arg(Centimeters(summary.reach->value.mm()),
                             Centimeters(std::max(0.0, summary.reach->value.mm() - half)),
                             Centimeters(summary.reach->value.mm() + half))));
  }
  for (const auto& [why, times] : summary.reasons) {
    Attempt attempt;
    attempt.why = why;
    lines->addWidget(parts::Text(
        words::ForNotCounted(attempt) + ' ' + tr("(%n time(s))", nullptr, times), "quiet"));
  }
  if (summary.tiredness.tired) {
    lines->addWidget(parts::Text(
        tr("Your eyes reached less from one time to the next (%1 a time, 95 % band %2 to %3). A "
           "rest is better than more repetitions.")
            .arg(Centimeters(*summary.tiredness.trend_mm->value),
                 Centimeters(summary.tiredness.trend_mm->low),
                 Centimeters(*summary.tiredness.trend_mm->high)),
        "warm"));
  } else if (summary.tiredness.failing) {
    lines->addWidget(parts::Text(
        tr("The last three times did not succeed after some that did: your eyes may be tired. A "
           "rest is better than more repetitions."),
        "warm"));
  }
  if (practice) {
    lines->addWidget(parts::Text(tr("This was practice with a simulated person."), "quiet"));
  }
  column->addWidget(card);
  column->addStretch(1);
}

void ExerciseAfter::HideQuestion() {
  answers_->hide();
  question_->hide();
}

}  // namespace nearpoint
