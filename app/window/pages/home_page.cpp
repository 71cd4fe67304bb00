#include "app/window/pages/home_page.h"

#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/exercise/exercise_words.h"
#include "app/window/exercise/todays_reminder.h"
#include "app/window/pages/all_pages.h"
#include "app/window/parts.h"
#include "app/window/safety_gate.h"
#include "app/window/safety_words.h"
#include "app/window/words.h"

namespace nearpoint {

HomePage::HomePage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  context().first_run = false;
  context().session = 0;
  context().unwritten_session.reset();
  SetHeading(context().person ? tr("Hello, %1").arg(context().person->name) : tr("Hello"));
  SetLead(tr("What would you like to do?"));
  SayWhatIsUnread();
  // Practice measures nobody.
  const bool stopped = SayWhatStops() && !context().practice;
  if (!stopped) OfferToGoOn();
  const auto pages = AllPages();
  if (!stopped)
    Lead("measure", context().practice ? tr("Practise a measurement") : tr("Measure my near point"),
         tr("About five minutes. Eyes should be rested, glasses on if you read with them."),
         PageId::kMeasure);
  if (pages.contains(PageId::kExercise) && !stopped) {
    const auto reminder = TodaysReminder(context());
    Lead("exercise", tr("Do my exercise"),
         reminder ? words::ForReminder(*reminder)
                  : tr("Push-ups with a check that both eyes take part."),
         PageId::kExercise);
  }
  if (pages.contains(PageId::kDiary)) {
    Lead("diary", tr("My diary"), tr("Days done, and how near you get over time."), PageId::kDiary);
  }
  Lead("past", tr("Earlier results"), tr("All measurements on this computer."), PageId::kPast);
  if (context().person && !context().practice) {
    Lead("send", tr("Send to my clinic"), tr("Chosen results, in a file that only they can open."),
         PageId::kSend);
  }
  Lead("learn", tr("\"Two\" is not \"blurred\""), tr("Look again at the difference and try it."),
       PageId::kLearn);
  if (context().practice) {
    Lead("card", tr("Practise with the card"),
         tr("A simulated person shows the card; nothing of it is stored."), PageId::kCard);
  }
  body()->addStretch(1);

  QPushButton* const practice =
      AddAside(context().practice ? tr("Leave practice") : tr("Practise with a simulated person"));
  practice->setObjectName("practice");
  connect(practice, &QPushButton::clicked, this, [this] {
    context().practice = !context().practice;
    emit Wanted(context().practice || context().person ? PageId::kHome : PageId::kWelcome);
  });
  AddAside(tr("School event"), PageId::kEvent)->setObjectName("event");
  AddAside(tr("Cautions"), PageId::kCautions);
  AddAside(tr("For clinicians"), PageId::kClinic)->setObjectName("clinic");
  AddAside(tr("Somebody else"), PageId::kWelcome);
}

void HomePage::Lead(const QString& name, const QString& title, const QString& line, PageId page) {
  QPushButton* const choice = parts::Choice(title, line);
  choice->setObjectName(name);
  connect(choice, &QPushButton::clicked, this, [this, page] { emit Wanted(page); });
  body()->addWidget(choice);
}

bool HomePage::SayWhatStops() {
  const auto facts = FactsOf(context());
  if (!facts) return false;  // said when something is to begin
  const Stop stop = StopOf(*facts);
  if (stop == Stop::kNone && !facts->trouble) return false;
  auto* said =
      parts::Text(stop != Stop::kNone ? words::ForStop(stop) : words::ForTrouble(), "stop");
  said->setObjectName("stopped");
  body()->addWidget(said);
  if (stop != Stop::kNone) {
    Lead("safety", tr("Answer the questions again"),
         tr("When it has passed, or when somebody has said that you may."), PageId::kSafety);
  } else {
    Lead("safety", tr("I have asked somebody"), tr("Say whom, and you can go on."),
         PageId::kSafety);
  }
  return true;
}

void HomePage::SayWhatIsUnread() {
  if (!context().unread_calibration || context().practice) return;
  QLabel* const said = parts::Text(
      tr("What was measured of your camera, your face and your hand cannot be read from the file "
         "any more, so ordinary values are used, as if nobody had measured them. Measure them "
         "again with the card."),
      "stop");
  said->setToolTip(words::Detail(*context().unread_calibration));
  body()->addWidget(said);
}

void HomePage::OfferToGoOn() {
  const RowId person = context().person ? context().person->id : 0;
  const auto unfinished = context().store.Unfinished(person);
  if (!unfinished) {
    body()->addWidget(parts::Text(words::ForError(unfinished.error()), "stop"));
    return;
  }
  if (!*unfinished || (*unfinished)->setup.practice != context().practice) return;
  const HomeSession& session = **unfinished;
  QPushButton* const go_on = parts::Choice(
      tr("Go on with the measurement that was interrupted"),
      session.counted == 0 ? tr("No round counts so far.")
                           : tr("%n round(s) that count are safe and need not be repeated.",
                                nullptr, session.counted));
  go_on->setObjectName("go_on");
  connect(go_on, &QPushButton::clicked, this, [this, id = session.id] {
    context().session = id;
    emit Wanted(PageId::kMeasure);
  });
  body()->addWidget(go_on);
}

}  // namespace nearpoint
