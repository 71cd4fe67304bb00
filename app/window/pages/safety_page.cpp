#include "app/window/pages/safety_page.h"

#include <QFrame>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/answers.h"
#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/safety_gate.h"
#include "app/window/safety_words.h"
#include "app/window/words.h"

namespace nearpoint {

SafetyPage::SafetyPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent), guard_(this, context().ticks) {
  HideHeading();
  asks_check_ = !context().safety_wanted;
  back_ = AddAside(context().first_run ? tr("Back") : tr("Back to the start"), WayOut());
  back_->setObjectName("back");
  ShowStep();
}

PageId SafetyPage::WayOut() const { return Before(context(), PageId::kSafety); }

void SafetyPage::Clear() {
  // A button of it may be on the stack.
  if (shown_ != nullptr) {
    shown_->hide();
    shown_->deleteLater();
  }
  shown_ = new QWidget();
  column_ = new QVBoxLayout(shown_);
  column_->setContentsMargins(0, 0, 0, 0);
  column_->setSpacing(look::Art(14));
  body()->insertWidget(0, shown_, 1);
  HideNext();
  setFocus();  // on none of the answers
  guard_.Begin(AnswerGuard::kBetween);
}

void SafetyPage::ShowStep() {
  if (asks_check_) {
    const auto facts = FactsOf(context());
    if (facts && answers_.empty() && StopOf(*facts) == Stop::kNone && facts->trouble) {
      AskWhom();
    } else {
      AskCheck();
    }
    return;
  }
  const auto step = StepBefore(context(), *context().safety_wanted);
  if (!step) {
    Clear();
    Say(tr("Before you begin"), words::ForError(step.error()), "stop");
    return;
  }
  switch (*step) {
    case SafetyStep::kMayBegin:
      GoOn();
      return;
    case SafetyStep::kStopped:
      if (const auto facts = FactsOf(context())) ShowStopped(StopOf(*facts));
      return;
    case SafetyStep::kAskWhom:
      AskWhom();
      return;
    case SafetyStep::kWhole:
      AskCheck();
      return;
    case SafetyStep::kNewToday:
      Ask(SafetyQuestion::kNewToday, tr("Since the last time"));
      return;
    case SafetyStep::kAdult:
      Ask(SafetyQuestion::kAdultBeside, tr("A child under twelve does this only with an adult."));
      return;
    case SafetyStep::kTold:
      Ask(SafetyQuestion::kToldToExercise, tr("Before an exercise"));
      return;
  }
}

void SafetyPage::AskCheck() {
  const auto question = NextOfCheck(answers_);
  if (!question) {
    EndCheck();
    return;
  }
  Ask(*question,
      tr("Question %1 of %2").arg(NumberInCheck(*question)).arg(QuestionsOfCheck(answers_)));
}

void SafetyPage::Ask(SafetyQuestion question, const QString& above) {
  Clear();
  const QString text = words::ForQuestion(question);
  SetHeading(text);
  column_->addWidget(parts::Text(above, "quiet"));
  AddQuestion(text);
  auto* answers = new Answers(text, {{"yes", tr("Yes")}, {"no", tr("No")}});
  answers->setObjectName(QString::fromUtf8(ToText(question).data()));
  connect(answers, &Answers::Given, this,
          [this, question](const QString& name) { Answer(question, name == "yes"); });
  column_->addWidget(answers);
  AnswersBeforeBack(*answers);
  // Below the answers: those are in view whatever the size of the text.
  if (question == SafetyQuestion::kToldToExercise) {
    column_->addWidget(parts::Text(words::PublishedOnExercise(), "soft"));
  }
  column_->addStretch(1);
  HideHeading();
}

void SafetyPage::AddQuestion(const QString& text) {
  auto* asked = parts::BigText(text, look::IsLarge() ? look::Body() : look::Large());
  asked->setObjectName("question");
  column_->addWidget(asked);
}

// By the keyboard, too: the way back was made first.
void SafetyPage::AnswersBeforeBack(const Answers& answers) {
  QWidget* before = nullptr;
  for (QPushButton* button : answers.buttons()) {
    if (before != nullptr) setTabOrder(before, button);
    before = button;
  }
  if (before != nullptr) setTabOrder(before, back_);
}

void SafetyPage::AskWhom() {
  Clear();
  const QString text = tr("Whom did you ask whether you may go on?");
  SetHeading(text);
  auto* why = parts::Text(words::ForTrouble(), "stop");
  AddQuestion(text);
  auto* answers = new Answers(text, {{"professional", tr("My eye-care professional")},
                                     {"doctor", tr("A doctor")},
                                     {"emergency", tr("An emergency department")},
                                     {"nobody", tr("Nobody yet")}});
  connect(answers, &Answers::Given, this, [this](const QString& name) {
    if (name == "nobody") {
      ShowNobodyYet();
      return;
    }
    static_cast<void>(KeepWhomAsked(context(), name));  // what fails is said above the page
    if (context().safety_wanted) {
      ShowStep();
    } else {
      emit Wanted(PageId::kHome);
    }
  });
  column_->addWidget(answers);
  AnswersBeforeBack(*answers);
  column_->addWidget(why);
  column_->addStretch(1);
  HideHeading();
}

void SafetyPage::Answer(SafetyQuestion question, bool yes) {
  switch (question) {
    case SafetyQuestion::kNewToday:
      static_cast<void>(KeepAnswers(context(), SafetyStore::Kind::kToday, {{question, yes}}));
      context().safety_now.today = true;
      ShowStep();
      return;
    case SafetyQuestion::kAdultBeside:
      if (!yes) {
        ShowNoAdult();
        return;
      }
      context().safety_now.adult = true;
      ShowStep();
      return;
    case SafetyQuestion::kToldToExercise:
      static_cast<void>(KeepAnswers(context(), SafetyStore::Kind::kTold, {{question, yes}}));
      if (yes) {
        ShowStep();
      } else {
        ShowNotTold();
      }
      return;
    default:
      answers_[question] = yes;
      AskCheck();
      return;
  }
}

void SafetyPage::EndCheck() {
  static_cast<void>(KeepAnswers(context(), SafetyStore::Kind::kWhole, answers_));
  context().safety_now.today = true;
  asks_check_ = false;
  const Stop stop = StopFor(answers_);
  if (stop != Stop::kNone) {
    ShowStopped(stop);
  } else {
    ShowReady();
  }
}

void SafetyPage::ShowReady() {
  Clear();
  Say(tr("Nothing of this applies"), tr("Stop at once, with the Escape key, when"), "");
  for (const QString& line : words::Lines(StopSigns)) {
    column_->addWidget(parts::Point(line, QStringLiteral("•")));
  }
  column_->addWidget(
      parts::Text(tr("Tired eyes and a little blur for some minutes are usual."), "quiet"));
  column_->addWidget(parts::Text(words::DoubleVision(), "warm"));
  column_->addStretch(1);
  QPushButton* const next = SetNext(tr("Continue"));
  next->setObjectName("continue");
  connect(next, &QPushButton::clicked, this, [this] {
    if (context().safety_wanted) {
      ShowStep();
    } else {
      emit Wanted(After(context(), PageId::kSafety));
    }
  });
}

void SafetyPage::ShowStopped(Stop stop) {
  Clear();
  Say(tr("Not now, please"), words::ForStop(stop), "stop");
  auto* again = parts::Choice(tr("Answer the questions again"),
                              tr("When it has passed, or when somebody has said that you may."));
  again->setObjectName("again");
  connect(again, &QPushButton::clicked, this, [this] {
    answers_.clear();
    asks_check_ = true;
    AskCheck();
  });
  column_->addWidget(again);
  auto* practice = parts::Choice(tr("Practise with a simulated person"),
                                 tr("You can look around; nobody is measured."));
  practice->setObjectName("practice");
  connect(practice, &QPushButton::clicked, this, [this] {
    context().practice = true;
    emit Wanted(context().first_run ? PageId::kLearn : PageId::kHome);
  });
  column_->addWidget(practice);
  column_->addStretch(1);
}

void SafetyPage::ShowNobodyYet() {
  Clear();
  Say(tr("Please ask first"), words::ForTrouble(), "stop");
  column_->addStretch(1);
}

void SafetyPage::ShowNoAdult() {
  Clear();
  Say(tr("Please fetch an adult first"),
      tr("A child under twelve measures and exercises only while an adult sits beside it."),
      "warm");
  column_->addStretch(1);
}

void SafetyPage::ShowNotTold() {
  Clear();
  Say(tr("Please ask first"),
      tr("Exercises are for people whose eye-care professional told them to exercise. Ask there "
         "whether they are right for you."),
      "warm");
  column_->addWidget(parts::Text(words::PublishedOnExercise(), "quiet"));
  column_->addStretch(1);
}

void SafetyPage::Say(const QString& heading, const QString& text, const char* role) {
  SetHeading(heading);
  column_->addWidget(parts::BigText(heading, look::Heading()));
  auto* said = parts::Text(text, role);
  said->setObjectName("said");
  column_->addWidget(said);
  HideHeading();
}

void SafetyPage::GoOn() { emit Wanted(*context().safety_wanted); }

}  // namespace nearpoint
