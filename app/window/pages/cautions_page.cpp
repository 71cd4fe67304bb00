#include "app/window/pages/cautions_page.h"

#include <QFrame>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/parts.h"

namespace nearpoint {

// The list of what is not for unsupervised use follows the exclusions of the published trials of
// convergence treatment; the rules for stopping are common practice.
CautionsPage::CautionsPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kCautions));
  SetHeading(tr("Before you begin"));
  SetLead(tr("Please read this once. It takes a minute."));

  QFrame* const today = parts::Card(tr("See a doctor today, and do not measure, if you have"));
  const QString mark = QStringLiteral("!");
  for (const QString& line :
       {tr("double vision that began suddenly or is always there"),
        tr("pain in or behind an eye, or a new kind of headache"),
        tr("pupils of unequal size, a drooping lid, or sight that suddenly got worse")}) {
    parts::LayoutOf(today)->addWidget(parts::Point(line, mark));
  }
  body()->addWidget(today);

  QFrame* const ask = parts::Card(tr("Only together with your eye professional, if you have"));
  const QString dot = QStringLiteral("•");
  for (const QString& line : {tr("a squint, a weak (\"lazy\") eye, or eyes that tremble"),
                              tr("had surgery on an eye or its muscles"),
                              tr("a disease of the nerves, or a concussion not long ago")}) {
    parts::LayoutOf(ask)->addWidget(parts::Point(line, dot));
  }
  body()->addWidget(ask);

  QFrame* const stop = parts::Card(tr("Stop at once, with the Escape key, when"));
  for (const QString& line : {tr("it hurts, or you feel sick or dizzy"),
                              tr("you go on seeing two after you leaned back")}) {
    parts::LayoutOf(stop)->addWidget(parts::Point(line, dot));
  }
  parts::LayoutOf(stop)->addWidget(
      parts::Text(tr("Tired eyes and a little blur for some minutes are usual. A young child "
                     "measures only with an adult. What your professional told you comes first."),
                  "quiet"));
  body()->addWidget(stop);
  body()->addStretch(1);

  if (context().first_run) {
    SetNext(tr("None of this applies to me"), After(context(), PageId::kCautions));
    QPushButton* const applies = AddAside(tr("Something here applies"));
    connect(applies, &QPushButton::clicked, this, &CautionsPage::ShowApplies);
    AddAside(tr("Back"), WayOut());
  } else {
    SetNext(tr("Back to the start"), PageId::kHome);
  }
}

PageId CautionsPage::WayOut() const { return Before(context(), PageId::kCautions); }

void CautionsPage::ShowApplies() {
  auto* answer =
      parts::Text(tr("Then please do not measure alone. Ask your eye professional first; with "
                     "signs from the first list, see a doctor today. You can still look around "
                     "with the simulated person."),
                  "stop");
  body()->insertWidget(0, answer);
  answer->setFocusPolicy(Qt::TabFocus);
  answer->setFocus();
  QPushButton* const next = SetNext(tr("Practise with a simulated person"));
  next->disconnect();
  connect(next, &QPushButton::clicked, this, [this] {
    context().practice = true;
    emit Wanted(PageId::kLearn);
  });
}

}  // namespace nearpoint
