#include "app/window/pages/past_page.h"

#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/language.h"
#include "app/window/parts.h"
#include "app/window/safety_words.h"
#include "app/window/session_result.h"
#include "app/window/words.h"

namespace nearpoint {

PastPage::PastPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetHeading(tr("Earlier results"));
  SetNext(tr("Back to the start"), PageId::kHome);
  const auto sessions = context().store.Sessions(context().person ? context().person->id : 0);
  if (!sessions) {
    body()->addWidget(parts::Text(words::ForError(sessions.error()), "stop"));
    return;
  }
  bool any = false;
  for (const HomeSession& session : *sessions) {
    if (session.trials == 0) continue;
    any = true;
    const SessionResult result = ReadResult(context().store, session);
    QString line = ShortSentence(result);
    if (session.setup.practice) line = tr("Practice, no measurement.") + ' ' + line;
    QPushButton* const choice = parts::Choice(MomentText(session.started_at), line);
    connect(choice, &QPushButton::clicked, this, [this, id = session.id] {
      context().session = id;
      emit Wanted(PageId::kResult);
    });
    body()->addWidget(choice);
  }
  if (any) body()->addWidget(parts::Text(words::PlaneNoteAtHome(), "quiet"));
  if (!any) SetLead(tr("Nothing has been measured yet. Your results will be listed here."));
  body()->addStretch(1);
}

}  // namespace nearpoint
