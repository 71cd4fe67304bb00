#include "app/window/clinic/plan_page.h"

#include <sodium.h>

#include <QCheckBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QFrame>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QRegularExpression>
#include <QSpinBox>
#include <QVBoxLayout>

#include "app/clinic_store/receive.h"
#include "app/exchange/plan_package.h"
#include "app/records/atomic_file.h"
#include "app/records/exercise_plan_json.h"
#include "app/window/clinic/clinic_parts.h"
#include "app/window/exercise/days.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {
namespace {

QString DateText(const std::optional<Day>& day) {
  return day ? QString::fromStdString(DayToText(*day)) : QString();
}

QSpinBox* Number(int low, int high) {
  auto* box = new QSpinBox();
  box->setRange(low, high);
  box->setFont(look::Body());
  box->setButtonSymbols(QAbstractSpinBox::PlusMinus);
  box->setMinimumWidth(look::Px(110));
  box->setMaximumWidth(look::Px(180));
  box->setMinimumHeight(look::Px(36));
  return box;
}

QPlainTextEdit* Lines(const char* name, const QString& label) {
  auto* edit = new QPlainTextEdit();
  edit->setObjectName(name);
  edit->setFont(look::Body());
  edit->setAccessibleName(label);
  edit->setTabChangesFocus(true);
  constexpr int kLines = 4;
  edit->setFixedHeight(QFontMetrics(look::Body()).lineSpacing() * kLines + look::Px(12));
  return edit;
}

}  // namespace

PlanPage::PlanPage(AppContext& the_context, QWidget* parent) : ClinicPage(the_context, parent) {
  SetHeading(tr("Plan"));
  AddAside(tr("Back to the person"), PageId::kClinicPatient);
  if (clinic() == nullptr) return;
  const auto patient = clinic()->store.FindPatient(clinic()->patient);
  const auto plans = clinic()->store.Plans(clinic()->patient);
  if (!patient || !plans) {
    ShowTrouble(!patient ? patient.error() : plans.error());
    body()->addStretch(1);
    return;
  }
  patient_ = *patient;
  SetStep(patient_.name);
  QFrame* const card = parts::Card(QString());
  auto* form = new QFormLayout();
  form->setRowWrapPolicy(clinic_parts::RowWrap());
  form->setHorizontalSpacing(look::Px(16));
  form->setVerticalSpacing(look::Px(10));
  const auto row = [form](const char* name, const QString& label, QWidget* field) {
    field->setObjectName(name);
    field->setAccessibleName(label);
    form->addRow(parts::Text(label), field);
  };
  levels_ = Line(form, "levels", tr("Distances, mm from the cornea, far to near"));
  nearer_ = parts::Text(QString(), "warm");
  nearer_->setObjectName("nearer");
  form->addRow(nearer_);
  connect(levels_, &QLineEdit::textChanged, this, &PlanPage::SayWhatIsNearer);
  if (const auto measured = clinic()->store.Measurements(clinic()->patient)) {
    for (const KeptMeasurement& one : *measured) {
      if (one.digest.simulated || !one.digest.break_mm) continue;
      const Band& band = *one.digest.break_mm;
      break_ = Length::Millimeters(band.value.value_or(band.low));
    }
  }
  repetitions_ = Number(1, 100);
  row("repetitions", tr("Repetitions in one session"), repetitions_);
  hold_ = Number(1, 60);
  row("hold", tr("Held for, seconds"), hold_);
  first_level_ = Number(1, 20);
  row("first_level", tr("Begin with distance number"), first_level_);
  days_ = Number(1, 7);
  row("days", tr("Days a week"), days_);
  mornings_ = new QCheckBox(tr("In the morning"));
  mornings_->setObjectName("mornings");
  mornings_->setFont(look::Body());
  form->addRow(QString(), mornings_);
  starts_ = Line(form, "starts", tr("First day, as 2026-03-16; may stay empty"));
  until_ = Line(form, "until", tr("Last day; may stay empty"));
  measure_on_ = Line(form, "measure_on", tr("Measure again on, dates in order"));
  stop_ = Lines("stop", tr("Stop and ask when, one sentence a line"));
  form->addRow(parts::Text(stop_->accessibleName()), stop_);
  note_ = Lines("note", tr("Words to the patient"));
  form->addRow(parts::Text(note_->accessibleName()), note_);
  parts::LayoutOf(card)->addLayout(form);
  body()->addWidget(card);
  body()->addWidget(parts::Text(
      tr("The plan goes home as a file that only that device can open and that carries this "
         "clinic's signature; the patient sees it before it is used."),
      "quiet"));
  body()->addStretch(1);
  if (plans->empty()) {
    ExercisePlan plan = CommonPracticePlan();
    plan.stop_when = {tr("Double vision stays after stopping.").toStdString(),
                      tr("It hurts, or you feel dizzy or sick.").toStdString()};
    plan.starts = Today();
    SetLead(tr("A beginning from common practice, to be changed."));
    Fill(plan);
  } else {
    Fill(plans->back().plan);
  }
  QPushButton* const keep = AddAside(tr("Keep only"));
  keep->setObjectName("keep");
  connect(keep, &QPushButton::clicked, this, [this] {
    const QString by = By();
    if (by.isEmpty()) return;
    const auto plan = Read(by);
    if (plan && Keep(by, *plan)) emit Wanted(PageId::kClinicPatient);
  });
  QPushButton* const send = SetNext(tr("Keep and seal ..."));
  send->setObjectName("seal");
  connect(send, &QPushButton::clicked, this, [this] {
    const QString file = QFileDialog::getSaveFileName(this, tr("Sealed plan"), "plan.nearpoint",
                                                      tr("Sealed files (*.nearpoint)"));
    if (!file.isEmpty()) SealTo(file);
  });
}

QLineEdit* PlanPage::Line(QFormLayout* form, const char* name, const QString& label) {
  auto* line = new QLineEdit();
  line->setObjectName(name);
  line->setFont(look::Body());
  line->setAccessibleName(label);
  form->addRow(parts::Text(label), line);
  return line;
}

void PlanPage::SayWhatIsNearer() {
  static const QRegularExpression kBetween("[,;\\s]+");
  ExercisePlan plan;
  for (const QString& word : levels_->text().split(kBetween, Qt::SkipEmptyParts)) {
    bool good = false;
    const double mm = word.toDouble(&good);
    if (good) plan.levels.push_back(Length::Millimeters(mm));
  }
  const auto nearer = break_ ? NearerThanBreak(plan, *break_) : std::vector<Length>();
  nearer_->setVisible(!nearer.empty());
  if (nearer.empty()) return;
  QStringList distances;
  for (const Length distance : nearer) distances << Centimeters(distance.mm());
  nearer_->setText(tr("Nearer than the measured break of %1: %2. Is that meant?")
                       .arg(Centimeters(break_->mm()), distances.join(", ")));
}

void PlanPage::Fill(const ExercisePlan& plan) {
  QStringList levels;
  for (const Length level : plan.levels) levels << QString::number(level.mm(), 'g', 6);
  levels_->setText(levels.join(", "));
  repetitions_->setValue(plan.repetitions);
  hold_->setValue(qRound(plan.hold_s));
  first_level_->setValue(plan.first_level);
  days_->setValue(plan.days_per_week);
  mornings_->setChecked(plan.mornings);
  starts_->setText(DateText(plan.starts));
  until_->setText(DateText(plan.until));
  QStringList dates;
  for (const Day day : plan.measure_on) dates << DateText(day);
  measure_on_->setText(dates.join(", "));
  QStringList rules;
  for (const std::string& rule : plan.stop_when) rules << QString::fromStdString(rule);
  stop_->setPlainText(rules.join('\n'));
  note_->setPlainText(QString::fromStdString(plan.note));
}

std::optional<ExercisePlan> PlanPage::Read(const QString& by) {
  static const QRegularExpression kBetween("[,;\\s]+");
  ExercisePlan plan;
  plan.source = PlanSource::kClinician;
  plan.set_by = by.toStdString();
  for (const QString& word : levels_->text().split(kBetween, Qt::SkipEmptyParts)) {
    bool good = false;
    plan.levels.push_back(Length::Millimeters(word.toDouble(&good)));
    if (!good) {
      ShowTrouble(tr("\"%1\" is no distance in millimetres.").arg(word));
      return std::nullopt;
    }
  }
  const auto date = [this](const QString& text, std::optional<Day>& day) {
    if (text.trimmed().isEmpty()) return true;
    day = ParseDay(text.trimmed().toStdString());
    if (!day) ShowTrouble(tr("\"%1\" is no date; expected one like 2026-03-16.").arg(text));
    return day.has_value();
  };
  if (!date(starts_->text(), plan.starts) || !date(until_->text(), plan.until)) return std::nullopt;
  for (const QString& word : measure_on_->text().split(kBetween, Qt::SkipEmptyParts)) {
    std::optional<Day> day;
    if (!date(word, day)) return std::nullopt;
    plan.measure_on.push_back(*day);
  }
  plan.repetitions = repetitions_->value();
  plan.hold_s = hold_->value();
  plan.first_level = first_level_->value();
  plan.days_per_week = days_->value();
  plan.mornings = mornings_->isChecked();
  for (const QString& rule : stop_->toPlainText().split('\n', Qt::SkipEmptyParts)) {
    if (!rule.trimmed().isEmpty()) plan.stop_when.push_back(rule.trimmed().toStdString());
  }
  plan.note = note_->toPlainText().trimmed().toStdString();
  return plan;
}

bool PlanPage::Keep(const QString& by, const ExercisePlan& plan) {
  const auto kept = clinic()->store.AddPlan(patient_.id, by, plan);
  if (!kept) ShowTrouble(kept.error());
  return kept.has_value();
}

void PlanPage::SealTo(const QString& file) {
  const QString by = By();
  if (by.isEmpty()) return;
  const auto plan = Read(by);
  if (!plan) return;
  const auto devices = DevicesOf(clinic()->store, patient_.id);
  const auto keys = clinic()->keys.Load();
  if (!devices || !keys) {
    ShowTrouble(!devices ? devices.error() : keys.error());
    return;
  }
  if (devices->empty()) {
    ShowTrouble(tr("No device of this person is known yet: they send first, and you match them."));
    return;
  }
  const PatientDevice& device = devices->front();
  const auto card = ParseCard(device.card.toStdString());
  if (!card) {
    ShowTrouble(card.error());
    return;
  }
  if (!Keep(by, *plan)) return;
  Package package =
      MakePlanPackage({device.said.toStdString(), SerializeExercisePlan(*plan)}, keys->name);
  randombytes_buf(package.id.data(), package.id.size());
  package.made_at = context().store.Now().toUTC().toString(Qt::ISODate).toStdString();
  const auto sealed = Seal(package, keys->identity, *card);
  if (!sealed) {
    ShowTrouble(sealed.error());
    return;
  }
  const auto written = WriteFileAtomically(file.toStdString(), TextOf(*sealed));
  if (!written) {
    ShowTrouble(written.error());
    return;
  }
  ShowDone(tr("The plan is kept, and sealed for \"%1\" in %2.").arg(device.said, file));
}

}  // namespace nearpoint
