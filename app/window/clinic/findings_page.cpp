#include "app/window/clinic/findings_page.h"

#include <QFormLayout>
#include <QFrame>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>
#include <cmath>

#include "app/window/clinic/clinic_parts.h"
#include "app/window/clinic/clinic_words.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {
namespace {

// The order of the fields on the page.
enum Field {
  kAge,
  kNearPhoria,
  kFarPhoria,
  kOutBlur,
  kOutBreak,
  kInBlur,
  kInBreak,
  kScore,
  kFieldCount
};

// In the person's own way of writing numbers, or with a point.
std::optional<double> NumberIn(const QString& text, bool& good) {
  const QString trimmed = text.trimmed();
  if (trimmed.isEmpty()) return std::nullopt;
  bool ok = false;
  double value = QLocale().toDouble(trimmed, &ok);
  if (!ok) value = QLocale::c().toDouble(trimmed, &ok);
  good = good && ok;
  return ok ? std::optional(value) : std::nullopt;
}

std::optional<PrismDiopters> Prism(const std::optional<double>& value) {
  return value ? std::optional(PrismDiopters::Of(*value)) : std::nullopt;
}

}  // namespace

FindingsPage::FindingsPage(AppContext& the_context, QWidget* parent)
    : ClinicPage(the_context, parent) {
  SetHeading(tr("Found in the office"));
  AddAside(tr("Back to the person"), PageId::kClinicPatient);
  if (clinic() == nullptr) return;
  const auto patient = clinic()->store.FindPatient(clinic()->patient);
  if (!patient) {
    ShowTrouble(patient.error());
    body()->addStretch(1);
    return;
  }
  SetStep(patient->name);
  SetLead(tr("Leave empty what was not tested."));
  QFrame* const card = parts::Card(QString());
  auto* form = new QFormLayout();
  form->setRowWrapPolicy(clinic_parts::RowWrap());
  form->setHorizontalSpacing(look::Px(16));
  form->setVerticalSpacing(look::Px(10));
  const QString labels[kFieldCount] = {tr("Age, years"),
                                       tr("Phoria at near, prism dioptres, exo positive"),
                                       tr("Phoria at far, prism dioptres, exo positive"),
                                       tr("Base out at near, blur"),
                                       tr("Base out at near, break"),
                                       tr("Base in at near, blur"),
                                       tr("Base in at near, break"),
                                       tr("Score of the symptom survey, 0 to 60")};
  for (const QString& label : labels) {
    auto* field = new QLineEdit(card);
    field->setFont(look::Body());
    field->setMaxLength(12);
    field->setMaximumWidth(look::Px(160));
    field->setAccessibleName(label);
    field->setObjectName(QString("field%1").arg(fields_.size()));
    form->addRow(parts::Text(label), field);
    fields_.push_back(field);
  }
  if (patient->birth_year) {
    fields_[kAge]->setText(
        QString::number(context().store.Now().toLocalTime().date().year() - *patient->birth_year));
  }
  words_ = new QLineEdit(card);
  words_->setObjectName("words");
  words_->setFont(look::Body());
  words_->setMaxLength(1000);
  words_->setAccessibleName(tr("In words"));
  form->addRow(parts::Text(tr("In words")), words_);
  parts::LayoutOf(card)->addLayout(form);
  body()->addWidget(card);
  QFrame* const weighed = parts::Card(tr("Published criteria, with the newest measurement"));
  auto* box = new QWidget();
  criteria_ = new QVBoxLayout(box);
  criteria_->setContentsMargins(0, 0, 0, 0);
  parts::LayoutOf(weighed)->addWidget(box);
  parts::LayoutOf(weighed)->addWidget(
      parts::Text(tr("None of them, alone or together, is a diagnosis."), "quiet"));
  body()->addWidget(weighed);
  body()->addStretch(1);
  QPushButton* const keep = SetNext(tr("Keep"));
  keep->setObjectName("keep");
  connect(keep, &QPushButton::clicked, this, &FindingsPage::Keep);
  // From here on: before, there was no place for what they say.
  for (const QLineEdit* field : fields_) {
    connect(field, &QLineEdit::textChanged, this, &FindingsPage::ShowCriteria);
  }
  ShowCriteria();
}

std::optional<ContextValues> FindingsPage::Read() {
  bool good = true;
  std::optional<double> numbers[kFieldCount];
  for (int i = 0; i < kFieldCount; ++i) numbers[i] = NumberIn(fields_[i]->text(), good);
  if (!good) return std::nullopt;
  ContextValues values;
  values.age_years = numbers[kAge];
  values.near_phoria = Prism(numbers[kNearPhoria]);
  values.far_phoria = Prism(numbers[kFarPhoria]);
  values.base_out_blur = Prism(numbers[kOutBlur]);
  values.base_out_break = Prism(numbers[kOutBreak]);
  values.base_in_blur = Prism(numbers[kInBlur]);
  values.base_in_break = Prism(numbers[kInBreak]);
  if (numbers[kScore]) {
    // A half would be cut off silently.
    if (*numbers[kScore] != std::floor(*numbers[kScore])) return std::nullopt;
    values.symptom_score = static_cast<int>(*numbers[kScore]);
  }
  return values;
}

void FindingsPage::ShowCriteria() {
  while (QLayoutItem* item = criteria_->takeAt(0)) {
    if (QWidget* const gone = item->widget()) {
      gone->hide();  // at once: it goes when the events do
      gone->deleteLater();
    }
    delete item;
  }
  const auto values = Read();
  if (!values) {
    criteria_->addWidget(parts::Text(tr("A field holds something that is not a number."), "warm"));
    return;
  }
  const auto measurements = clinic()->store.Measurements(clinic()->patient);
  Estimate estimate;
  if (measurements && !measurements->empty()) {
    const SessionDigest& newest = measurements->back().digest;
    estimate.break_mm = newest.break_mm;
    estimate.recovery_mm = newest.recovery_mm;
    estimate.answer = newest.answer;
    estimate.cut_off = newest.cut_off;
  }
  for (const Criterion& criterion : EvaluateCriteria(estimate, ReferencePlane::kCorneal, *values)) {
    const char* mark = criterion.status == Status::kMet      ? "✓"
                       : criterion.status == Status::kNotMet ? "–"
                                                             : "?";
    QWidget* const line = parts::Point(
        words::CriterionName(criterion.name) + ": " + words::StatusWord(criterion.status), mark);
    line->setToolTip(QString::fromUtf8(criterion.source.data(),
                                       static_cast<qsizetype>(criterion.source.size())));
    criteria_->addWidget(line);
  }
}

void FindingsPage::Keep() {
  const QString by = By();
  if (by.isEmpty()) return;
  const auto values = Read();
  if (!values) {
    ShowTrouble(tr("A field holds something that is not a number."));
    return;
  }
  const auto kept =
      clinic()->store.AddFinding(clinic()->patient, by, *values, words_->text().trimmed());
  if (!kept) {
    ShowTrouble(kept.error());
    return;
  }
  emit Wanted(PageId::kClinicPatient);
}

}  // namespace nearpoint
