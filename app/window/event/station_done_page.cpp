#include "app/window/event/station_done_page.h"

#include <QPushButton>
#include <QVBoxLayout>

#include "app/event/card_may_tell.h"
#include "app/window/event/event_context.h"
#include "app/window/event/event_words.h"
#include "app/window/parts.h"
#include "app/window/safety_words.h"

namespace nearpoint {

StationDonePage::StationDonePage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent) {
  SetHeading(tr("Thank you!"));
  EventContext* const event = context().event.get();
  const ChildState* const child = event != nullptr && event->desk() != nullptr
                                      ? event->desk()->state().Find(event->child)
                                      : nullptr;
  SetLead(tr("That was it. Look far away for a moment, then you can go back."));
  if (child != nullptr) body()->addWidget(parts::Text(words::ForChild(*child)));
  said_ = parts::Text(QString(), "stop");
  said_->setObjectName("said");
  said_->hide();
  body()->addWidget(said_);
  if (event != nullptr && !event->kept) {
    Say(event->unwritten() > 0
            ? words::ForUnwritten(*event)
            : tr("This measurement could not be written down. The child stays on the list."));
  }
  body()->addWidget(parts::Text(
      tr("Do the eyes hurt, or does the child still see two? Then call the person in charge and "
         "choose \"Needs looking after\".") +
          ' ' + words::DoubleVision(),
      "warm"));
  body()->addStretch(1);
  SetNext(tr("Next child"), PageId::kStation)->setObjectName("next_child");
  // Offered where the measurement cannot tell; it says nothing of either side.
  const bool once_more =
      child != nullptr && event->kept &&
      (child->finding == Finding::kMeasureAgain || child->finding == Finding::kNotMeasured);
  if (once_more) {
    QPushButton* const again = AddAside(tr("One more time, if there is time"));
    again->setObjectName("again");
    connect(again, &QPushButton::clicked, this, [this, event] {
      const auto started = event->desk()->Start(event->child, /*anyway=*/true);
      if (!started) {
        body()->addWidget(parts::Text(words::ForError(started.error()), "warm"));
        return;
      }
      event->since.start();
      emit Wanted(PageId::kStationChild);
    });
  }
  if (child != nullptr && event->kept && child->counts &&
      CardMayTell(child->measurements[*child->counts].what)) {
    QPushButton* const card = AddAside(tr("Once more, with the card"));
    card->setObjectName("card");
    connect(card, &QPushButton::clicked, this, [this, event] {
      event->card = std::make_unique<ChildCard>(context(), event->store(), event->child);
      emit Wanted(PageId::kCard);
    });
  }
  QPushButton* const caution = AddAside(tr("Needs looking after"));
  caution->setObjectName("caution");
  connect(caution, &QPushButton::clicked, this, [this, event] {
    if (event == nullptr || event->desk() == nullptr) return;
    const auto noted = event->Write(
        [child = event->child](EventDesk& desk) { return desk.Stop(child, StopReason::kCaution); });
    event->Nudge();
    // Where it waits in memory the station goes on saying so.
    if (noted || event->unwritten() > 0) {
      emit Wanted(PageId::kStation);
    } else {
      Say(words::ForError(noted.error()));
    }
  });
}

void StationDonePage::Say(const QString& sentence) {
  said_->setText(sentence);
  said_->show();
}

}  // namespace nearpoint
