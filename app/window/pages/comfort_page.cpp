#include "app/window/pages/comfort_page.h"

#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/comfort_answers.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/safety_gate.h"

namespace nearpoint {

ComfortPage::ComfortPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent), guard_(this, context().ticks) {
  SetHeading(ComfortQuestion());
  HideHeading();
  body()->addWidget(
      parts::BigText(ComfortQuestion(), look::IsLarge() ? look::Body() : look::Large()));
  auto* const answers = NewComfortAnswers();
  connect(answers, &Answers::Given, this, &ComfortPage::Answer);
  body()->addWidget(answers);
  body()->addWidget(parts::Text(
      tr("A little tired or blurred is usual. It should pass within minutes."), "quiet"));
  body()->addStretch(1);
  guard_.Begin(AnswerGuard::kAfterKeys);
}

void ComfortPage::Answer(const QString& comfort) {
  HeedComfort(context(), comfort);
  const auto id = context().session != 0 ? std::make_shared<RowId>(context().session)
                                         : context().unwritten_session;
  if (id) {
    // What fails waits behind the trials of the session, and is said above the page.
    static_cast<void>(context().pending->Do(
        [id, comfort, &store = context().store] { return store.EndSession(*id, comfort); }));
  }
  emit Wanted(PageId::kResult);
}

}  // namespace nearpoint
