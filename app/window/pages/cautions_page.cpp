#include "app/window/pages/cautions_page.h"

#include <QFrame>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/parts.h"
#include "app/window/safety_words.h"

namespace nearpoint {

CautionsPage::CautionsPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kCautions));
  SetHeading(tr("When not to measure, and when to stop"));
  const QString mark = QStringLiteral("!");
  const QString dot = QStringLiteral("•");
  AddList(tr("Go to an emergency department at once with"), words::Lines(EmergencySigns), mark);
  AddList(tr("See a doctor today, and do not measure, with"), words::Lines(TodaySigns), mark);
  AddList(tr("Only as your eye-care professional says, with"), words::Lines(OnlyWithProfessional),
          dot);
  QFrame* const stop =
      AddList(tr("Stop at once, with the Escape key, when"), words::Lines(StopSigns), dot);
  parts::LayoutOf(stop)->addWidget(
      parts::Text(tr("Tired eyes and a little blur for some minutes are usual. A child under "
                     "twelve measures only with an adult. What your professional told you comes "
                     "first."),
                  "quiet"));
  body()->addStretch(1);

  SetNext(context().first_run ? tr("Continue") : tr("Back to the start"),
          After(context(), PageId::kCautions));
  if (context().first_run) {
    AddAside(tr("Back"), WayOut());
  } else if (!context().practice) {
    AddAside(tr("Answer the questions again"), PageId::kSafety)->setObjectName("safety");
  }
}

PageId CautionsPage::WayOut() const { return Before(context(), PageId::kCautions); }

QFrame* CautionsPage::AddList(const QString& title, const QStringList& lines, const QString& mark) {
  QFrame* const card = parts::Card(title);
  for (const QString& line : lines) {
    parts::LayoutOf(card)->addWidget(parts::Point(line, mark));
  }
  body()->addWidget(card);
  return card;
}

}  // namespace nearpoint
