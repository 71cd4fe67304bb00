#include "app/window/event/event_set_up_page.h"

#include <QComboBox>
#include <QFormLayout>
#include <QFrame>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/event/yield.h"
#include "app/window/event/event_context.h"
#include "app/window/event/event_words.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"

namespace nearpoint {

EventSetUpPage::EventSetUpPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent) {
  SetHeading(tr("A new event"));
  QFrame* const card = parts::Card(QString());
  auto* form = new QFormLayout();
  form->setRowWrapPolicy(QFormLayout::WrapLongRows);
  form->setHorizontalSpacing(look::Px(16));
  form->setVerticalSpacing(look::Px(10));
  name_ = new QLineEdit(card);
  name_->setObjectName("event_name");
  name_->setFont(look::Large());
  name_->setPlaceholderText(tr("such as: primary school, spring"));
  name_->setAccessibleName(tr("Name"));
  form->addRow(parts::Text(tr("Name")), name_);
  day_ = new QLineEdit(context().store.Now().toLocalTime().date().toString(Qt::ISODate), card);
  day_->setObjectName("event_day");
  day_->setFont(look::Large());
  day_->setAccessibleName(tr("Day"));
  form->addRow(parts::Text(tr("Day")), day_);

  norm_ = AddChoice(form, "norm", tr("Limit"));
  norm_->addItem(tr("Schoolchildren, 6 cm (Hayes et al. 1998)"), "hayes-1998");
  norm_->addItem(tr("The published one for each child's age"), QString(kNormByAge.data()));
  for (const Norm& norm : AllNorms()) {
    if (!norm.break_limit || norm.id == "hayes-1998") continue;
    norm_->addItem(
        QString::fromUtf8(norm.name.data()) + " (" + QString::fromUtf8(norm.source.data()) + ")",
        QString::fromUtf8(norm.id.data()));
  }
  trials_ = AddChoice(form, "trials", tr("Rounds a child"));
  trials_->addItem(tr("2, a third where needed"), QPoint(2, 3));
  trials_->addItem(tr("3, up to 5 where needed"), QPoint(3, 5));
  trials_->addItem(tr("1, a second where needed"), QPoint(1, 2));
  refer_ = AddChoice(form, "refer", tr("\"See a professional\" from"));
  for (const int percent : {80, 50, 90, 95}) {
    refer_->addItem(tr("%1 % sure that it lies beyond the limit").arg(percent), percent);
  }
  repeat_ = AddChoice(form, "repeat", tr("\"Measure again\" from"));
  for (const int percent : {50, 30, 20}) {
    repeat_->addItem(tr("%1 % sure that it lies beyond the limit").arg(percent), percent);
  }
  plane_ = AddChoice(form, "plane", tr("Distances are shown from"));
  plane_->addItem(tr("where spectacles sit"), static_cast<int>(ReferencePlane::kSpectacle));
  plane_->addItem(tr("the cornea"), static_cast<int>(ReferencePlane::kCorneal));
  plane_->addItem(tr("the outer corner of the eye"),
                  static_cast<int>(ReferencePlane::kLateralCanthus));
  plane_->addItem(tr("the centre of rotation"),
                  static_cast<int>(ReferencePlane::kCentreOfRotation));
  equipment_ = AddChoice(form, "equipment", tr("This computer's camera"));
  equipment_->addItem(tr("not calibrated"), "webcam");
  equipment_->addItem(tr("calibrated"), "camera");
  parts::LayoutOf(card)->addLayout(form);
  body()->addWidget(card);

  QFrame* const expected = parts::Card(tr("What to expect"));
  yield_ = parts::Text(QString());
  yield_->setObjectName("yield");
  parts::LayoutOf(expected)->addWidget(yield_);
  parts::LayoutOf(expected)->addWidget(parts::Text(
      tr("Computed from the published share of children beyond 6 cm (at most 15 %; Hayes et al. "
         "1998) and this program's errors on rendered faces. On real children they are not "
         "measured yet and can be larger. Less sure than \"measure again\" asks for counts as "
         "within."),
      "quiet"));
  body()->addWidget(expected);
  trouble_ = parts::Text(QString(), "stop");
  trouble_->hide();
  body()->addWidget(trouble_);
  body()->addStretch(1);
  connect(SetNext(tr("Begin this event")), &QPushButton::clicked, this, &EventSetUpPage::Begin);
  AddAside(tr("Back"), PageId::kEvent);
  for (QComboBox* box : {norm_, trials_, refer_, repeat_, equipment_}) {
    connect(box, &QComboBox::currentIndexChanged, this, &EventSetUpPage::ShowYield);
  }
  ShowYield();
  name_->setFocus();
}

QComboBox* EventSetUpPage::AddChoice(QFormLayout* form, const char* name, const QString& title) {
  QComboBox* const box = parts::NewComboBox(this);
  box->setObjectName(name);
  box->setAccessibleName(title);
  // Long names of norms give way instead of widening the window.
  box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  box->setMinimumContentsLength(20);
  form->addRow(parts::Text(title), box);
  return box;
}

EventRule EventSetUpPage::Rule() const {
  EventRule rule;
  rule.norm = norm_->currentData().toString().toStdString();
  const QPoint trials = trials_->currentData().toPoint();
  rule.least_trials = trials.x();
  rule.most_trials = trials.y();
  constexpr double kPercent = 100;
  rule.refer_from = refer_->currentData().toInt() / kPercent;
  rule.repeat_from = repeat_->currentData().toInt() / kPercent;
  rule.plane = static_cast<ReferencePlane>(plane_->currentData().toInt());
  return rule;
}

void EventSetUpPage::ShowYield() {
  const auto equipment = FindEquipment(equipment_->currentData().toString().toStdString());
  SchoolOptions school;
  school.simulated = 1000;  // a third of a second
  const auto yield = ExpectedYield(Rule(), **equipment, school);
  yield_->setText(yield ? words::ForYield(*yield, school.children)
                        : words::ForError(yield.error()));
}

void EventSetUpPage::Begin() {
  const auto event = EventContext::Of(context());
  const auto begun =
      event ? EventDesk::Begin((*event)->store(), {name_->text().toStdString(),
                                                   day_->text().trimmed().toStdString(), Rule()})
            : Result<Uuid>(tl::unexpected(event.error()));
  if (begun) {
    if ((*event)->Choose(*begun)) (*event)->Nudge();
    emit Wanted(PageId::kEvent);
    return;
  }
  trouble_->setText(words::ForError(begun.error()));
  trouble_->show();
}

}  // namespace nearpoint
