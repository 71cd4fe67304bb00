#include "app/window/event/station_card_page.h"

#include <QFrame>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/event/event_context.h"
#include "app/window/event/event_words.h"
#include "app/window/parts.h"

namespace nearpoint {

bool StationCardPage::IsWanted(const AppContext& context) {
  return context.event != nullptr && context.event->card != nullptr;
}

StationCardPage::StationCardPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent), event_(the_context.event.get()) {
  SetHeading(tr("Once more, with the card"));
  SetLead(
      tr("The card tells how large this face is. Then the child is measured once more: no picture "
         "was kept, so what was measured before cannot be made more exact afterwards."));
  ChildCard& card = *event_->card;
  if (auto kept = card.KeepCamera(event_->store()); !kept) {
    body()->addWidget(parts::Text(words::ForError(kept.error()), "stop"));
  }
  if (const ChildState* const child = event_->desk()->state().Find(card.child())) {
    body()->addWidget(parts::Text(words::ForChild(*child)));
  }
  AddChoice(body(), "camera", tr("1. The camera, once for this station"),
            card.camera_known() ? tr("✓ Measured. It stays for all children.")
                                : tr("→ Not measured yet: one or two minutes."),
            PageId::kCardCamera, true);
  AddChoice(body(), "print", tr("2. The size of the print, once for this station"),
            card.print_known()
                ? tr("✓ Measured. It stays for all children.")
                : tr("→ Not measured yet: half a minute, with a ruler or a bank card."),
            PageId::kCardPrint, true);
  AddChoice(body(), "face", tr("3. This child's face"),
            card.face_known()     ? tr("✓ Measured. It is forgotten with the next child.")
            : card.camera_known() ? tr("→ The card on the forehead: about a minute.")
                                  : tr("→ The camera comes first."),
            PageId::kCardFace, card.camera_known());
  body()->addStretch(1);
  QPushButton* const next = SetNext(tr("Measure once more"));
  next->setObjectName("measure_again");
  next->setEnabled(card.face_known());
  connect(next, &QPushButton::clicked, this, &StationCardPage::MeasureAgain);
  AddAside(tr("Back"), PageId::kStationDone);
  // The next thing to do has the focus.
  auto* const wanted = findChild<QPushButton*>(!card.camera_known()  ? "camera"
                                               : !card.print_known() ? "print"
                                                                     : "face");
  (card.face_known() ? next : wanted)->setFocus();
}

void StationCardPage::MeasureAgain() {
  const auto started = event_->desk()->Start(event_->card->child(), /*anyway=*/true);
  if (!started) {
    body()->addWidget(parts::Text(words::ForError(started.error()), "warm"));
    return;
  }
  event_->child = event_->card->child();
  event_->since.start();
  event_->Nudge();
  emit Wanted(PageId::kStationChild);
}

}  // namespace nearpoint
