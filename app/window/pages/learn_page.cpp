#include "app/window/pages/learn_page.h"

#include <QFrame>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {
namespace {

constexpr int kEnough = 4;      // right answers in a row
constexpr unsigned kSeed = 20;  // the same questions each time: nothing is won by chance

QWidget* Example(percept::Kind kind, const QString& word, const QString& what) {
  auto* place = new QWidget();
  auto* column = new QVBoxLayout(place);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(look::Px(6));
  column->addWidget(new PerceptPicture(kind));
  auto* head = parts::Text(word);
  QFont font = look::Large();
  font.setWeight(QFont::DemiBold);
  head->setFont(font);
  head->setAlignment(Qt::AlignHCenter);
  auto* line = parts::Text(what, "quiet");
  line->setAlignment(Qt::AlignHCenter);
  column->addWidget(head);
  column->addWidget(line);
  return place;
}

}  // namespace

LearnPage::LearnPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent), random_(kSeed) {
  SetStep(StepText(context(), PageId::kLearn));
  SetHeading(tr("\"Two\" is not \"blurred\""));
  SetLead(tr("Near your eyes the letter first gets blurred. Wait. Only when it is two, press."));
  auto* row = parts::NewRow();
  row->addWidget(Example(percept::Kind::kOne, tr("One"), tr("go on")));
  row->addWidget(Example(percept::Kind::kBlurred, tr("Blurred"), tr("still one: go on")));
  row->addWidget(Example(percept::Kind::kTwo, tr("Two"), tr("press now")));
  body()->addLayout(row);

  QFrame* const card = parts::Card(tr("Try it: is this two?"));
  auto* ask = parts::NewRow();
  question_ = new PerceptPicture(percept::Kind::kOne, card);
  question_->SetSecret(true);
  ask->addWidget(question_, 1);
  auto* answers = new QVBoxLayout();
  two_ = new QPushButton(tr("Yes, two"), card);
  two_->setObjectName("two");
  not_two_ = new QPushButton(tr("No, not two"), card);
  not_two_->setObjectName("not_two");
  for (QPushButton* button : {two_, not_two_}) {
    button->setProperty("role", "choice");
    button->setFont(look::Large());
    button->setAutoDefault(true);
    answers->addWidget(button);
  }
  ask->addLayout(answers, 1);
  parts::LayoutOf(card)->addLayout(ask);
  says_ = parts::Text(tr("Four right answers in a row, and you know it."), "quiet");
  parts::LayoutOf(card)->addWidget(says_);
  body()->addWidget(card);
  connect(two_, &QPushButton::clicked, this, [this] { Answer(true); });
  connect(not_two_, &QPushButton::clicked, this, [this] { Answer(false); });

  body()->addWidget(
      parts::Text(tr("Skipped: who mixes them up moves the result by about 4 cm."), "quiet"));
  QPushButton* const skip = AddAside(tr("Skip"));
  skip->setObjectName("skip");
  connect(skip, &QPushButton::clicked, this,
          [this] { emit Wanted(After(context(), PageId::kLearn)); });
  body()->addStretch(1);
  if (context().first_run) AddAside(tr("Back"), WayOut());
  Ask();
  two_->setFocus();
}

PageId LearnPage::WayOut() const { return Before(context(), PageId::kLearn); }

void LearnPage::Ask() {
  const percept::Kind last = asked_;
  // Blurred as often as two: that is the difference to learn.
  while (asked_so_far_ > 0 && asked_ == last) {
    const unsigned draw = random_() / 7 % 5;
    asked_ = draw < 1   ? percept::Kind::kOne
             : draw < 3 ? percept::Kind::kBlurred
                        : percept::Kind::kTwo;
  }
  if (asked_so_far_ == 0) asked_ = percept::Kind::kBlurred;
  ++asked_so_far_;
  const double separation = 0.35 + 0.1 * static_cast<double>(random_() / 7 % 4);
  question_->SetKind(asked_, separation);
}

void LearnPage::Answer(bool two) {
  const bool right = two == (asked_ == percept::Kind::kTwo);
  QString what;
  switch (asked_) {
    case percept::Kind::kOne:
      what = tr("that was one");
      break;
    case percept::Kind::kBlurred:
      what = tr("that was one, only blurred");
      break;
    case percept::Kind::kTwo:
      what = tr("that was two");
      break;
  }
  right_in_a_row_ = right ? right_in_a_row_ + 1 : 0;
  const QString sign = right ? QStringLiteral("✓ ") : QStringLiteral("✗ ");
  says_->setText(sign + (right ? tr("Right: %1.").arg(what) : tr("Not quite: %1.").arg(what)) +
                 ' ' + tr("%1 of %2").arg(right_in_a_row_).arg(kEnough));
  if (right_in_a_row_ >= kEnough) {
    Finish();
    return;
  }
  Ask();
}

void LearnPage::Finish() {
  says_->setText(tr("✓ You know the difference. Wait through the blur, press at two."));
  two_->setEnabled(false);
  not_two_->setEnabled(false);
  if (auto* skip = findChild<QPushButton*>("skip")) skip->hide();
  SetNext(tr("Continue"), After(context(), PageId::kLearn))->setFocus();
}

}  // namespace nearpoint
