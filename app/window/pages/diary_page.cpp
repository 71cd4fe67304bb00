#include "app/window/pages/diary_page.h"

#include <QFrame>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/store/exercise_store.h"
#include "app/window/app_context.h"
#include "app/window/exercise/days.h"
#include "app/window/exercise/exercise_words.h"
#include "app/window/exercise/reach_view.h"
#include "app/window/exercise/week_view.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/safety_gate.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {

constexpr int kWeeks = 6;

}  // namespace

DiaryPage::DiaryPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetHeading(tr("My diary"));
  SetNext(tr("Do my exercise"), PageId::kExercise);
  AddAside(tr("Back to the start"), PageId::kHome);
  const RowId person = context().person ? context().person->id : 0;
  const ExerciseStore store(context().store);
  const auto plan = store.Plan(person);
  const auto sessions = store.Sessions(person);
  if (!plan || !sessions) {
    body()->addStretch(1);
    ShowTrouble(words::ForError(!plan ? plan.error() : sessions.error()));
    return;
  }
  const auto entries = DiaryEntries(*sessions);
  const QDateTime now = context().store.Now().toLocalTime();
  const Day today = ToDay(now.date());
  SetLead(words::ForReminder(IsBlocked(context())
                                 ? Reminder::kAskFirst
                                 : RemindNow(*plan, entries, today, now.time().hour())));

  QFrame* const plan_card = parts::Card(tr("My plan"));
  parts::LayoutOf(plan_card)->addWidget(parts::Text(words::ForPlan(*plan) + '.'));
  parts::LayoutOf(plan_card)->addWidget(parts::Text(words::ForPlanSource(*plan), "quiet"));
  if (!plan->note.empty()) {
    parts::LayoutOf(plan_card)->addWidget(parts::Text(QString::fromStdString(plan->note), "soft"));
  }
  if (!plan->stop_when.empty()) {
    parts::LayoutOf(plan_card)->addWidget(parts::Text(tr("Stop and ask your clinic when:")));
    for (const std::string& rule : plan->stop_when) {
      parts::LayoutOf(plan_card)->addWidget(parts::Point(QString::fromStdString(rule), "■"));
    }
  }
  if (!plan->measure_on.empty()) {
    QStringList dates;
    for (const Day day : plan->measure_on) {
      dates << QLocale().toString(ToQDate(day), QLocale::ShortFormat);
    }
    parts::LayoutOf(plan_card)->addWidget(
        parts::Text(tr("Measure again on: %1.").arg(dates.join(", "))));
  }
  auto* load = new QPushButton(tr("Plan from a file"));
  load->setObjectName("load_plan");
  load->setFont(look::Body());
  load->setAutoDefault(true);
  connect(load, &QPushButton::clicked, this, [this] { emit Wanted(PageId::kPlanFile); });
  parts::LayoutOf(plan_card)->addWidget(load, 0, Qt::AlignLeft);
  body()->addWidget(plan_card);

  QFrame* const days = parts::Card(tr("Days"));
  parts::LayoutOf(days)->addWidget(new WeekView(DiaryWeeks(*plan, entries, today, kWeeks), today));
  parts::LayoutOf(days)->addWidget(parts::Text(
      tr("A tick: all repetitions. A dash: some of them. An empty square is simply a day "
         "without; any day is a good day to go on."),
      "quiet"));
  body()->addWidget(days);

  const ReachCourse course = ReachOverTime(entries);
  QFrame* const reach = parts::Card(tr("How near I get"));
  if (course.points.empty()) {
    parts::LayoutOf(reach)->addWidget(
        parts::Text(tr("After the first repetition that counts, the nearest pair you held stands "
                       "here."),
                    "quiet"));
  } else {
    parts::LayoutOf(reach)->addWidget(new ReachView(course));
    QString text =
        tr("The nearest pair held, from the front of the eyes; the line is its 95 % band.");
    if (course.trend_mm_per_week) {
      const Band& trend = *course.trend_mm_per_week;
      const QString numbers = tr("(%1 a week, 95 % band %2 to %3)")
                                  .arg(Centimeters(*trend.value, 2), Centimeters(trend.low, 2),
                                       Centimeters(*trend.high, 2));
      text += ' ' +
              (!course.changes    ? tr("No change over time can be told from it yet")
               : *trend.value < 0 ? tr("It comes nearer over time")
                                  : tr("It moves away over time")) +
              ' ' + numbers + '.';
    }
    parts::LayoutOf(reach)->addWidget(parts::Text(text, "quiet"));
    parts::LayoutOf(reach)->addWidget(
        parts::Text(tr("This follows the exercise. Whether the near point has changed, only the "
                       "measurement tells."),
                    "quiet"));
  }
  body()->addWidget(reach);
  body()->addStretch(1);
}

void DiaryPage::ShowTrouble(const QString& sentence) {
  auto* trouble = findChild<QLabel*>("trouble");
  if (trouble == nullptr) {
    trouble = parts::Text(QString(), "stop");
    trouble->setObjectName("trouble");
    body()->insertWidget(2, trouble);
  }
  trouble->setText(sentence);
}

}  // namespace nearpoint
