#include "app/window/pages/comfort_page.h"

#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/parts.h"
#include "app/window/words.h"

namespace nearpoint {

ComfortPage::ComfortPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetHeading(tr("How do your eyes feel now?"));
  SetLead(tr("Look far away for a moment before you answer."));
  const struct {
    const char* name;
    QString title;
    QString line;
  } answers[] = {
      {"fine", tr("Fine"), QString()},
      {"tired", tr("A little tired or blurred"), tr("Usual. It should pass within minutes.")},
      {"discomfort", tr("They hurt, or I feel sick or dizzy"), QString()},
      {"double", tr("I still see two"), QString()},
  };
  for (const auto& answer : answers) {
    QPushButton* const choice = parts::Choice(answer.title, answer.line);
    choice->setObjectName(answer.name);
    connect(choice, &QPushButton::clicked, this,
            [this, name = QString(answer.name)] { Answer(name); });
    body()->addWidget(choice);
  }
  body()->addStretch(1);
}

void ComfortPage::Answer(const QString& comfort) {
  if (context().session != 0) {
    const auto ended = context().store.EndSession(context().session, comfort);
    if (!ended) {
      body()->insertWidget(0, parts::Text(words::ForError(ended.error()), "stop"));
      return;
    }
  }
  emit Wanted(PageId::kResult);
}

}  // namespace nearpoint
