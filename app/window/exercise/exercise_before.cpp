#include "app/window/exercise/exercise_before.h"

#include <QFrame>
#include <QHBoxLayout>
#include <QLabel>
#include <QLocale>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/exercise/exercise_words.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/safety_words.h"

namespace nearpoint {

ExerciseBefore::ExerciseBefore(QWidget* parent) : QWidget(parent) {
  auto* column = new QVBoxLayout(this);
  column->setSpacing(look::Px(14));
  column->setContentsMargins(0, 0, 0, 0);
  column->addWidget(parts::BigText(tr("Exercise"), look::Heading()));
  today_ = parts::BigText(QString(), look::Large());
  today_->setObjectName("today");
  column->addWidget(today_);
  source_ = parts::Text(QString(), "quiet");
  source_->setObjectName("source");
  column->addWidget(source_);
  published_ = parts::Text(words::PublishedOnExercise(), "soft");
  published_->setObjectName("published");
  column->addWidget(published_);
  due_ = parts::Text(QString(), "warm");
  due_->setObjectName("due");
  column->addWidget(due_);
  AddActions(column, {{"easier", tr("Easier today"), &ExerciseBefore::Easier},
                      {"harder", tr("Harder today"), &ExerciseBefore::Harder}});
  QFrame* const how = parts::Card(tr("How it goes"));
  const QString steps[] = {
      tr("Sit about 50 cm from the screen, an arm's length. Hold one fingertip up in front of you, "
         "just below the two figures."),
      tr("Look at the cross first. After the tone look at your fingertip and bring it slowly "
         "nearer. "
         "The two figures behind it become double, and a third appears in the middle."),
      tr("It is right when the one in the middle shows both marks, the disc above and the bar "
         "below. "
         "Then press the space bar and hold it. The camera looks whether both eyes turn in; it can "
         "be wrong."),
  };
  int number = 0;
  for (const QString& step : steps) {
    parts::LayoutOf(how)->addWidget(parts::Point(step, QLocale().toString(++number)));
  }
  column->addWidget(how);
  QFrame* const stop = parts::Card(tr("Stop with the Escape key when"));
  const QString dot = QStringLiteral("•");
  for (const QString& line : words::Lines(StopSigns)) {
    parts::LayoutOf(stop)->addWidget(parts::Point(line, dot));
  }
  parts::LayoutOf(stop)->addWidget(parts::Text(words::Help() + ' ' + words::OnlyAsSaid(), "stop"));
  stop_rules_ = parts::Text(QString());
  stop_rules_->setObjectName("stop_rules");
  parts::LayoutOf(stop)->addWidget(stop_rules_);
  column->addWidget(stop);
  scale_ = parts::Text(QString(), "quiet");
  column->addWidget(scale_);
  AddActions(column, {{"screen", tr("Size of the screen"), &ExerciseBefore::ScreenWanted},
                      {"sheet", tr("Print the exercise"), &ExerciseBefore::SheetWanted}});
  column->addStretch(1);
}

void ExerciseBefore::AddActions(QVBoxLayout* column, std::initializer_list<Action> actions) {
  auto* row = new QHBoxLayout();
  for (const Action& action : actions) {
    auto* button = new QPushButton(action.text);
    button->setObjectName(action.name);
    button->setFont(look::Body());
    button->setAutoDefault(true);
    connect(button, &QPushButton::clicked, this, action.act);
    row->addWidget(button);
  }
  row->addStretch(1);
  column->addLayout(row);
}

void ExerciseBefore::SetPlan(const ExercisePlan& plan, int level, std::optional<Reminder> today) {
  const Length distance = plan.levels[static_cast<std::size_t>(level - 1)];
  source_->setText(words::ForPlanSource(plan));
  published_->setVisible(plan.source != PlanSource::kClinician);
  QString text = words::ForPlan(plan) + ". " +
                 tr("Today: level %1 of %2, the fingertip at about %3 from your eyes.")
                     .arg(level)
                     .arg(plan.levels.size())
                     .arg(Centimeters(distance.mm(), 0));
  if (!plan.note.empty()) text += '\n' + QString::fromStdString(plan.note);
  today_->setText(text);
  const bool out = today == Reminder::kOver || today == Reminder::kNotBegun;
  due_->setText(out ? words::ForReminder(*today) : QString());
  due_->setVisible(out);
  QString rules;
  for (const std::string& rule : plan.stop_when) {
    rules += QStringLiteral("\n■ ") + QString::fromStdString(rule);
  }
  stop_rules_->setText(tr("Your clinic asks you to stop when:") + rules);
  stop_rules_->setVisible(!rules.isEmpty());
  findChild<QPushButton*>("easier")->setEnabled(level > 1);
  findChild<QPushButton*>("harder")->setEnabled(level < static_cast<int>(plan.levels.size()));
}

void ExerciseBefore::SetMeasured(bool screen, bool pupils) {
  QString text = screen ? tr("The size of this screen was checked with a card.")
                        : tr("The size of this screen has not been checked with a card yet; that "
                             "takes a minute.");
  if (!pupils) {
    text += ' ' + tr("The distance of your pupils was not measured with the card, so that of an "
                     "average face is used: the place of the fingertip may be 5 % off.");
  }
  scale_->setText(text);
}

}  // namespace nearpoint
