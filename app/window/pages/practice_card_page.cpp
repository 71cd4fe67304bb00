#include "app/window/pages/practice_card_page.h"

#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/parts.h"
#include "app/window/practice_card.h"

namespace nearpoint {

PracticeCardPage::PracticeCardPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent) {
  SetHeading(tr("Practise with the card"));
  SetLead(
      tr("A simulated person shows the card, and you see what the program asks for and how long "
         "each part takes. Nothing of it is stored, and it changes nobody's measurement."));
  const AppContext& practice = PracticeCardOf(context()).context();
  const auto& made = practice.profile.made;
  const bool camera = practice.calibrated;
  const QString first = tr("→ The camera comes first.");
  AddChoice(body(), "camera", tr("1. The camera"),
            camera ? tr("✓ Practised.") : tr("→ The card in tilts: about half a minute."),
            PageId::kCardCamera, true);
  AddChoice(body(), "face", tr("2. The face"),
            made.face ? tr("✓ Practised.")
            : camera  ? tr("→ The card on the forehead: about a quarter of a minute.")
                      : first,
            PageId::kCardFace, camera);
  const auto& held = practice.profile.held_card;
  AddChoice(body(), "touch", tr("3. The touch of the nose"),
            held && held->zero ? tr("✓ Practised.")
            : camera           ? tr("→ The card on the nose, and one key: about half a minute.")
                               : first,
            PageId::kCardTouch, camera);
  body()->addStretch(1);
  SetNext(tr("Done"), PageId::kHome);
  // The next thing to do has the focus.
  auto* const next = findChild<QPushButton*>(!camera ? "camera" : !made.face ? "face" : "touch");
  next->setFocus();
}

}  // namespace nearpoint
