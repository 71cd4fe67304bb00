#include "app/window/pages/about_page.h"

#include <QFrame>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/near_point_drawing.h"
#include "app/window/parts.h"

namespace nearpoint {

AboutPage::AboutPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kAbout));
  SetHeading(tr("What is measured"));
  SetLead(
      tr("Both eyes turn inward to look at something near. From some distance on they cannot any "
         "more, and you see two. That distance is the near point."));
  body()->addWidget(new NearPointDrawing());

  QFrame* const does = parts::Card(tr("What this does"));
  const QString yes = QStringLiteral("✓");
  parts::LayoutOf(does)->addWidget(
      parts::Point(tr("The camera measures how far your eyes are from the target, and how they "
                      "turn."),
                   yes));
  parts::LayoutOf(does)->addWidget(
      parts::Point(tr("You say when you see two, and when it is one again. That takes about five "
                      "minutes."),
                   yes));
  parts::LayoutOf(does)->addWidget(
      parts::Point(tr("No picture of your face is kept, and of your eyes only if you agree to that "
                      "apart. Numbers are kept, on this computer."),
                   yes));
  body()->addWidget(does);

  QFrame* const not_this = parts::Card(tr("What it is not"));
  const QString no = QStringLiteral("–");
  parts::LayoutOf(not_this)->addWidget(
      parts::Point(tr("It is a screening measurement and never a diagnosis. One number does not "
                      "tell whether something is wrong."),
                   no));
  parts::LayoutOf(not_this)->addWidget(
      parts::Point(tr("It does not replace an eye examination, and it does not check how sharp you "
                      "see."),
                   no));
  body()->addWidget(not_this);
  body()->addStretch(1);

  SetNext(tr("Continue"), After(context(), PageId::kAbout));
  if (context().first_run) AddAside(tr("Back"), WayOut());
}

PageId AboutPage::WayOut() const { return Before(context(), PageId::kAbout); }

}  // namespace nearpoint
