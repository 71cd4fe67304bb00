#include "app/window/pages/welcome_page.h"

#include <QFormLayout>
#include <QFrame>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {
constexpr int kOldest = 110;
}  // namespace

WelcomePage::WelcomePage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetHeading(tr("Who is this for?"));
  SetLead(
      tr("This program measures how near something can come before you see it double. It works on "
         "this computer alone: no account, no network."));
  ShowKnown();

  QFrame* const card = parts::Card(context().person ? tr("Somebody new") : QString());
  auto* form = new QFormLayout();
  form->setRowWrapPolicy(QFormLayout::WrapLongRows);
  form->setHorizontalSpacing(look::Px(16));
  form->setVerticalSpacing(look::Px(12));
  name_ = new QLineEdit(card);
  name_->setFont(look::Large());
  name_->setMaxLength(80);
  name_->setPlaceholderText(tr("a first name is enough"));
  name_->setAccessibleName(tr("Name"));
  year_ = new QLineEdit(card);
  year_->setFont(look::Large());
  year_->setMaxLength(4);
  year_->setPlaceholderText(tr("may stay empty"));
  year_->setAccessibleName(tr("Year of birth"));
  year_->setAccessibleDescription(tr("Decides which usual limit the result is held against."));
  form->addRow(parts::Text(tr("Name")), name_);
  form->addRow(parts::Text(tr("Year of birth")), year_);
  parts::LayoutOf(card)->addLayout(form);
  parts::LayoutOf(card)->addWidget(
      parts::Text(tr("The year decides which usual limit your result is held against. Without it "
                     "the one for adults is used."),
                  "quiet"));
  adult_ = parts::Text(tr("A child under twelve measures and exercises only with an adult beside "
                          "it. That is asked each time."),
                       "soft");
  adult_->setObjectName("adult");
  parts::LayoutOf(card)->addWidget(adult_);
  adult_->hide();
  wrong_year_ = parts::Text(
      tr("This year of birth cannot be right: four digits, such as 1990, or nothing."), "warm");
  wrong_year_->setObjectName("wrong_year");
  parts::LayoutOf(card)->addWidget(wrong_year_);
  wrong_year_->hide();
  body()->addWidget(card);
  body()->addStretch(1);
  connect(name_, &QLineEdit::textChanged, this,
          [this](const QString& text) { context().typed.name = text; });
  connect(year_, &QLineEdit::textChanged, this, [this](const QString& text) {
    context().typed.year = text;
    wrong_year_->hide();
    adult_->setVisible(MayBeUnderTwelve(Year(), context().store.Now().date().year()));
  });
  // What was typed before a look at the practice.
  const AppContext::Typed typed = context().typed;
  name_->setText(typed.name);
  year_->setText(typed.year);

  QPushButton* const next =
      SetNext(context().practice ? tr("Leave practice and continue") : tr("Continue"));
  connect(next, &QPushButton::clicked, this, &WelcomePage::Continue);
  QPushButton* const practice = AddAside(tr("Practise with a simulated person first"));
  practice->setObjectName("practice");
  connect(practice, &QPushButton::clicked, this, [this] {
    context().practice = true;
    emit Wanted(PageId::kAbout);
  });
  AddAside(tr("School event"), PageId::kEvent)->setObjectName("event");
  name_->setFocus();
}

PageId WelcomePage::WayOut() const { return context().person ? PageId::kHome : PageId::kWelcome; }

void WelcomePage::ShowKnown() {
  const auto people = context().store.People();
  if (!people) {
    body()->addWidget(parts::Text(words::ForError(people.error()), "stop"));
    return;
  }
  for (const Person& person : *people) {
    QPushButton* const choice = parts::Choice(person.name, QString());
    body()->addWidget(choice);
    connect(choice, &QPushButton::clicked, this, [this, person] {
      Choose(context(), person);
      context().first_run = false;
      emit Wanted(PageId::kHome);
    });
  }
}

std::optional<int> WelcomePage::Year() const {
  bool number = false;
  const int year = year_->text().toInt(&number);
  const int this_year = context().store.Now().date().year();
  if (!number || year < this_year - kOldest || year > this_year) return std::nullopt;
  return year;
}

void WelcomePage::Continue() {
  Person person;
  person.name = name_->text().simplified();
  if (person.name.isEmpty()) {
    name_->setFocus();
    name_->setPlaceholderText(tr("please write a name here"));
    return;
  }
  if (!year_->text().isEmpty() && !Year()) {
    wrong_year_->show();
    year_->setFocus();
    year_->selectAll();
    return;
  }
  person.birth_year = Year();
  const auto added = context().store.AddPerson(person);
  if (!added) {
    body()->insertWidget(0, parts::Text(words::ForError(added.error()), "stop"));
    return;
  }
  context().typed = {};
  Choose(context(), *added);
  context().first_run = true;
  context().practice = false;
  emit Wanted(After(context(), PageId::kWelcome));
}

}  // namespace nearpoint
