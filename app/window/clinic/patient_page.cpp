#include "app/window/clinic/patient_page.h"

#include <QDir>
#include <QFileDialog>
#include <QFrame>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/clinic_store/person_file.h"
#include "app/records/atomic_file.h"
#include "app/window/clinic/clinic_parts.h"
#include "app/window/clinic/clinic_words.h"
#include "app/window/clinic/time_line_view.h"
#include "app/window/exercise/exercise_words.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {

using clinic_parts::Button;
PatientPage::PatientPage(AppContext& the_context, QWidget* parent)
    : ClinicPage(the_context, parent) {
  AddAside(tr("All patients"), PageId::kClinic);
  if (clinic() == nullptr) return;
  const auto patient = clinic()->store.FindPatient(clinic()->patient);
  auto measurements = clinic()->store.Measurements(clinic()->patient);
  if (!patient || !measurements) {
    SetHeading(tr("Patient"));
    ShowTrouble(!patient ? patient.error() : measurements.error());
    body()->addStretch(1);
    return;
  }
  patient_ = *patient;
  measurements_ = *std::move(measurements);
  SetHeading(patient_.name);
  ShowReasons();
  ShowTimeLine();
  ShowMeasurements();
  ShowPlanAndFindings();
  ShowData();
  body()->addStretch(1);
  if (!measurements_.empty()) {
    QPushButton* const newest = SetNext(tr("Look at the newest"));
    newest->setObjectName("newest");
    connect(newest, &QPushButton::clicked, this,
            [this] { OpenMeasurement(measurements_.back().id); });
  }
  AddAside(tr("Write a plan"), PageId::kClinicPlan)->setObjectName("plan");
  AddAside(tr("Findings in the office"), PageId::kClinicFindings)->setObjectName("findings");
}

void PatientPage::OpenMeasurement(RowId measurement) {
  clinic()->measurement = measurement;
  emit Wanted(PageId::kClinicSession);
}

void PatientPage::ShowReasons() {
  const auto rows = clinic()->store.Patients(Today());
  if (!rows) {
    ShowTrouble(rows.error());
    return;
  }
  const auto row =
      std::ranges::find(*rows, patient_.id, [](const PatientRow& r) { return r.patient.id; });
  if (row == rows->end() || row->reasons.empty()) {
    SetLead(tr("Nothing asks for a look."));
    return;
  }
  QFrame* const card = parts::Card(tr("Why to look"));
  for (const Reason reason : row->reasons.List()) {
    parts::LayoutOf(card)->addWidget(parts::Point(words::LongReason(reason), "▲"));
  }
  parts::LayoutOf(card)->addWidget(
      parts::Text(tr("Reasons to look, no findings. Those of a measurement go when it is accepted, "
                     "the others with the button here until something new comes."),
                  "quiet"));
  QPushButton* const seen = Button(tr("I have looked, nothing to do"), "seen");
  connect(seen, &QPushButton::clicked, this, [this] {
    const QString by = By();
    if (by.isEmpty()) return;
    const auto marked = clinic()->store.MarkSeen(patient_.id, by, Today());
    if (!marked) {
      ShowTrouble(marked.error());
      return;
    }
    emit Wanted(PageId::kClinicPatient);
  });
  parts::LayoutOf(card)->addWidget(seen, 0, Qt::AlignLeft);
  body()->addWidget(card);
}

void PatientPage::ShowTimeLine() {
  std::vector<SessionDigest> digests;
  for (const KeptMeasurement& measurement : measurements_) digests.push_back(measurement.digest);
  std::optional<double> age;
  if (patient_.birth_year) {
    age = context().store.Now().toLocalTime().date().year() - *patient_.birth_year;
  }
  const TimeLine line = MakeTimeLine(digests, age);
  auto exercise = clinic()->store.ExerciseDays(patient_.id);
  if (!exercise) {
    ShowTrouble(exercise.error());
    return;
  }
  const auto plans = clinic()->store.Plans(patient_.id);
  QFrame* const card = parts::Card(tr("Over time"));
  if (line.points.empty() && exercise->empty()) {
    parts::LayoutOf(card)->addWidget(parts::Text(tr("Nothing has been received yet."), "quiet"));
    body()->addWidget(card);
    return;
  }
  parts::LayoutOf(card)->addWidget(parts::Text(words::CourseSentence(line)));
  parts::LayoutOf(card)->addWidget(new TimeLineView(
      line, *exercise,
      plans && !plans->empty() ? plans->back().plan.measure_on : std::vector<Day>()));
  QString key =
      tr("Dots with their 95 % band: measurements, open where they do not count in the "
         "course. A square around one: eyes and report disagree. Bars below: exercise, "
         "half height where some repetitions were missing. Diamonds: measurement asked "
         "for. Dashed: the limit");
  key += line.limit_from != nullptr
             ? " (" +
                   QString::fromUtf8(line.limit_from->name.data(),
                                     static_cast<qsizetype>(line.limit_from->name.size())) +
                   "; " +
                   QString::fromUtf8(line.limit_from->source.data(),
                                     static_cast<qsizetype>(line.limit_from->source.size())) +
                   ")."
             : " " + tr("(as the newest measurement has it, since no year of birth is known).");
  if (line.mean_from != nullptr) {
    key += ' ' + tr("Dotted, with one standard deviation: mean of %1.")
                     .arg(QString::fromUtf8(line.mean_from->source.data(),
                                            static_cast<qsizetype>(line.mean_from->source.size())));
  }
  parts::LayoutOf(card)->addWidget(parts::Text(key, "quiet"));
  body()->addWidget(card);
}

void PatientPage::ShowMeasurements() {
  QFrame* const card = parts::Card(tr("Measurements"));
  if (measurements_.empty()) {
    parts::LayoutOf(card)->addWidget(parts::Text(tr("None yet."), "quiet"));
    body()->addWidget(card);
    return;
  }
  list_ = new QListWidget();
  list_->setObjectName("measurements");
  list_->setFont(look::Body());
  list_->setAccessibleName(tr("Measurements, newest first"));
  list_->setWordWrap(true);
  list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  list_->setMinimumHeight(look::Px(180));
  for (auto it = measurements_.rbegin(); it != measurements_.rend(); ++it) {
    const QString state = words::StateText(it->digest);
    QString text = words::WhenText(it->digest) + "   " + words::BandText(it->digest.break_mm) +
                   "   " + words::AnswerWord(it->digest.answer);
    if (it->digest.said) {
      text += "\n" + tr("on its day, against %1: %2")
                         .arg(Centimeters(it->digest.said->cut_off.mm()),
                              words::AnswerWord(it->digest.said->answer));
    }
    if (!state.isEmpty()) text += "\n" + state;
    auto* item = new QListWidgetItem(text, list_);
    item->setData(Qt::UserRole, it->id);
  }
  list_->setCurrentRow(0);
  connect(list_, &QListWidget::itemActivated, this, [this](const QListWidgetItem* item) {
    OpenMeasurement(item->data(Qt::UserRole).toLongLong());
  });
  parts::LayoutOf(card)->addWidget(list_);
  body()->addWidget(card);
}

void PatientPage::ShowPlanAndFindings() {
  const auto plans = clinic()->store.Plans(patient_.id);
  const auto findings = clinic()->store.Findings(patient_.id);
  if (!plans || !findings) {
    ShowTrouble(!plans ? plans.error() : findings.error());
    return;
  }
  QFrame* const plan = parts::Card(tr("Plan"));
  parts::LayoutOf(plan)->addWidget(plans->empty()
                                       ? parts::Text(tr("No plan has been written here."), "quiet")
                                       : parts::Text(words::ForPlan(plans->back().plan) + ". " +
                                                     words::ForPlanSource(plans->back().plan)));
  body()->addWidget(plan);
  QFrame* const found = parts::Card(tr("Found in the office"));
  if (findings->empty()) {
    parts::LayoutOf(found)->addWidget(parts::Text(tr("Nothing has been entered."), "quiet"));
  } else {
    const OfficeFinding& last = findings->back();
    const QString day =
        QLocale().toString(QDateTime::fromString(last.at, Qt::ISODateWithMs).toLocalTime().date(),
                           QLocale::ShortFormat);
    parts::LayoutOf(found)->addWidget(parts::Text(
        tr("%1, by %2. %3").arg(day, last.by, last.words.isEmpty() ? QString() : last.words)));
  }
  body()->addWidget(found);
}

void PatientPage::ShowWho(QVBoxLayout* layout) {
  const auto line = [layout](const char* name, const QString& label, const QString& text) {
    auto* edit = new QLineEdit(text);
    edit->setObjectName(name);
    edit->setFont(look::Body());
    edit->setMaxLength(120);
    layout->addWidget(parts::Text(label, "quiet"));
    edit->setAccessibleName(label);
    layout->addWidget(edit);
    return edit;
  };
  auto* name = line("name", tr("Name"), patient_.name);
  auto* number = line("number", tr("Number in your records"), patient_.number);
  auto* year = line("birth_year", tr("Year of birth: decides the limit and the norm"),
                    patient_.birth_year ? QString::number(*patient_.birth_year) : QString());
  QPushButton* const keep = Button(tr("Keep these"), "keep_who");
  connect(keep, &QPushButton::clicked, this, [this, name, number, year] {
    Patient changed = patient_;
    changed.name = name->text().trimmed();
    changed.number = number->text().trimmed();
    changed.birth_year.reset();
    const QString written = year->text().trimmed();
    if (!written.isEmpty()) {
      bool good = false;
      const int number_of_year = written.toInt(&good);
      constexpr int kEarliest = 1900;
      if (!good || number_of_year < kEarliest ||
          number_of_year > context().store.Now().toLocalTime().date().year()) {
        ShowTrouble(tr("\"%1\" is no year of birth; expected one like 2014.").arg(written));
        return;
      }
      changed.birth_year = number_of_year;
    }
    if (const auto kept = clinic()->store.UpdatePatient(changed); !kept) {
      ShowTrouble(kept.error());
      return;
    }
    emit Wanted(PageId::kClinicPatient);
  });
  layout->addWidget(keep, 0, Qt::AlignLeft);
}

void PatientPage::ShowData() {
  QFrame* const card = parts::Card(tr("Their data"));
  ShowWho(parts::LayoutOf(card));
  parts::LayoutOf(card)->addWidget(
      parts::Text(tr("Kept in a file that only this user of the computer may read; it is not "
                     "encrypted. An encrypted disk protects it when the computer is lost."),
                  "quiet"));
  auto* row = parts::NewRow();
  QPushButton* const out = Button(tr("Everything as files ..."), "export");
  connect(out, &QPushButton::clicked, this, [this] {
    const QString folder =
        QFileDialog::getExistingDirectory(this, tr("Folder for everything about this person"));
    if (!folder.isEmpty()) ExportTo(folder);
  });
  QPushButton* const gone = Button(tr("Delete this person ..."), "delete");
  connect(gone, &QPushButton::clicked, this, [this, gone] {
    // A second press of the same button, with its words changed, instead of a window in the way.
    if (gone->property("asked").toBool()) {
      DeleteNow();
      return;
    }
    gone->setProperty("asked", true);
    gone->setText(tr("Delete for good: press again"));
    // Beside the button, so that the second press is no search for it.
    findChild<QLabel*>("delete_warning")->show();
  });
  row->addWidget(out);
  row->addWidget(gone);
  row->addStretch(1);
  parts::LayoutOf(card)->addLayout(row);
  auto* warning = parts::Text(tr("Everything about %1 would be deleted and overwritten; nobody "
                                 "could bring it back. Press the button again to do it, or Escape "
                                 "to leave.")
                                  .arg(patient_.name),
                              "stop");
  warning->setObjectName("delete_warning");
  warning->hide();
  parts::LayoutOf(card)->addWidget(warning);
  body()->addWidget(card);
}

void PatientPage::ExportTo(const QString& folder) {
  const QString by = By();
  if (by.isEmpty()) return;
  const auto files = ExportPatient(clinic()->store, patient_.id, by);
  if (!files) {
    ShowTrouble(files.error());
    return;
  }
  const QDir place(QDir(folder).filePath(QString("patient-%1").arg(patient_.id)));
  if (!QDir().mkpath(place.path())) {
    ShowTrouble(tr("%1: this folder cannot be made.").arg(place.path()));
    return;
  }
  for (const ExportedFile& file : *files) {
    const std::string path = place.filePath(QString::fromStdString(file.name)).toStdString();
    if (const auto written = WriteFileAtomically(path, file.content, Readers::kOwner); !written) {
      ShowTrouble(written.error());
      return;
    }
  }
  ShowDone(tr("%n file(s) were written to %1. They name the person.", nullptr,
              static_cast<int>(files->size()))
               .arg(QDir::toNativeSeparators(place.path())));
}

void PatientPage::DeleteNow() {
  const QString by = By();
  if (by.isEmpty()) return;
  if (const auto deleted = DeletePatient(clinic()->store, patient_.id, by); !deleted) {
    ShowTrouble(deleted.error());
    return;
  }
  clinic()->patient = 0;
  emit Wanted(PageId::kClinic);
}

}  // namespace nearpoint
