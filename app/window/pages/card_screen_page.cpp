#include "app/window/pages/card_screen_page.h"

#include <QLabel>
#include <QPushButton>
#include <QScreen>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/exercise/dot_size.h"
#include "app/window/exercise/screen_card.h"
#include "app/window/language.h"
#include "app/window/parts.h"
#include "app/window/words.h"
#include "calibration/screen.h"

namespace nearpoint {

CardScreenPage::CardScreenPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kCard));
  SetHeading(tr("The size of this screen"));
  SetLead(
      tr("Hold a bank card against the screen and make the outline as large as the card with the "
         "arrow keys, with Shift in larger steps. Then press Return."));
  card_ = new ScreenCard(DotSizeOf(*this, context().store).mm_per_dot);
  body()->addWidget(card_, 1);
  says_ = parts::Text(
      tr("Skipped, figures and letters on the screen may be %1 % too large or too small.")
          .arg(kStatedPercent),
      "quiet");
  body()->addWidget(says_);
  auto* const keep = SetNext(tr("It fits"));
  keep->setObjectName("keep");
  connect(keep, &QPushButton::clicked, this, &CardScreenPage::Keep);
  connect(card_, &ScreenCard::Fits, this, &CardScreenPage::Keep);
  AddAside(tr("Skip"), PageId::kCard)->setObjectName("skip");
  card_->setFocus();
}

void CardScreenPage::Keep() {
  if (const auto kept = KeepDotSize(*this, card_->mm_per_dot(), context().store); !kept) {
    says_->setText(words::ForError(kept.error()));
    return;
  }
  const QString differs = AgainstReported();
  if (differs.isEmpty()) {
    emit Wanted(PageId::kCard);
    return;
  }
  // To be read before the page is left.
  says_->setText(differs);
  card_->setEnabled(false);
  SetNext(tr("Continue"), PageId::kCard)->setFocus();
}

QString CardScreenPage::AgainstReported() const {
  const DotSize size = DotSizeOf(*this, context().store);
  const QScreen* const here = screen();
  if (here == nullptr || here->physicalSize().width() <= 0) return {};
  const double dots = here->size().width() * here->devicePixelRatio();
  const double reported_mm = here->physicalSize().width();
  if (!CompareWithReported({size.mm_per_dot, size.relative_sd}, static_cast<int>(dots),
                           reported_mm)) {
    return {};
  }
  return tr("✓ Kept. By the card this screen is %1 wide; the system says %2. The card is believed. "
            "If it was not a bank card, do it once more.")
      .arg(Centimeters(dots * size.mm_per_dot), Centimeters(reported_mm));
}

}  // namespace nearpoint
