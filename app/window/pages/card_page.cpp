#include "app/window/pages/card_page.h"

#include <QFrame>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/parts.h"

namespace nearpoint {

CardPage::CardPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kCard));
  SetHeading(tr("How exact shall it be?"));
  SetLead(context().calibrated
              ? tr("Camera and face are calibrated for you on this computer.")
              : tr("You can measure at once with the lengths of an average face and an ordinary "
                   "camera. Then the result is less exact: plus or minus 4 % instead of 1 % for "
                   "your face, and about 7 % for a camera that nobody measured."));
  QFrame* const card = parts::Card(tr("What that means"));
  parts::LayoutOf(card)->addWidget(
      parts::Text(tr("At 8 cm the distance may be off by about 6 mm, always in the same direction. "
                     "So your results can be compared with each other from day to day, but less "
                     "surely with the usual limit. The band of your result is that much wider.")));
  body()->addWidget(card);
  body()->addStretch(1);
  SetNext(context().first_run ? tr("Continue without a card") : tr("Done"),
          After(context(), PageId::kCard));
  if (context().first_run) AddAside(tr("Back"), WayOut());
}

PageId CardPage::WayOut() const { return Before(context(), PageId::kCard); }

}  // namespace nearpoint
