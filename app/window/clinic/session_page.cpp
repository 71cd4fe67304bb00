#include "app/window/clinic/session_page.h"

#include <QComboBox>
#include <QFrame>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/clinic/reviewed_session.h"
#include "app/measure/observations.h"
#include "app/store/store.h"
#include "app/window/clinic/clinic_parts.h"
#include "app/window/clinic/clinic_words.h"
#include "app/window/clinic/eye_picture_view.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/near_point_scale.h"
#include "app/window/parts.h"
#include "app/window/trace_view.h"
#include "app/window/words.h"

namespace nearpoint {

using clinic_parts::Button;
namespace {

QString SetAsideWords(const Trial& trial) {
  if (!trial.set_aside) return {};
  return *trial.set_aside == SetAside::kByHand ? QString::fromStdString(trial.set_aside_words)
                                               : words::SetAside(*trial.set_aside);
}

QString BreakText(const Trial& trial) {
  if (trial.censored == Censoring::kBelow && trial.limit) {
    return "≤ " + Centimeters(trial.limit->mm());
  }
  if (trial.censored == Censoring::kAbove && trial.limit) {
    return "≥ " + Centimeters(trial.limit->mm());
  }
  return trial.break_point ? Centimeters(trial.break_point->value.value.mm()) : "–";
}

}  // namespace

ClinicSessionPage::ClinicSessionPage(AppContext& the_context, QWidget* parent)
    : ClinicPage(the_context, parent) {
  AddAside(tr("Back to the person"), PageId::kClinicPatient);
  SetHeading(tr("Measurement"));
  if (clinic() == nullptr) return;
  auto file = clinic()->store.FindMeasurement(clinic()->measurement);
  if (!file) {
    ShowTrouble(file.error());
    body()->addStretch(1);
    return;
  }
  file_ = *std::move(file);
  const std::string where = file_->measurement.name.toStdString();
  auto stored = ParseStoredSession(file_->text, where);
  auto course = ParseSessionCourse(file_->text, where);
  if (!stored || !course) {
    ShowTrouble(!stored ? stored.error() : course.error());
    body()->addStretch(1);
    return;
  }
  stored_ = *std::move(stored);
  course_ = *std::move(course);
  auto reviewed = AsReviewed(stored_, file_->review);
  if (!reviewed) {
    ShowTrouble(reviewed.error());
    body()->addStretch(1);
    return;
  }
  const auto limit = clinic()->store.Limit(file_->measurement.patient);
  if (!limit) {
    ShowTrouble(limit.error());
    body()->addStretch(1);
    return;
  }
  as_reviewed_ = HeldAgainst(*std::move(reviewed), *limit);
  reviewed_ = as_reviewed_.data.trials;
  SetHeading(words::WhenText(file_->measurement.digest));
  if (const auto patient = clinic()->store.FindPatient(file_->measurement.patient)) {
    SetStep(patient->name);
  }
  ShowResult();
  ShowTrials();
  ShowDecision();
  ShowOutput();
  body()->addStretch(1);
  if (!file_->measurement.digest.accepted) {
    QPushButton* const accept = SetNext(tr("Accept as it stands"));
    accept->setObjectName("accept");
    connect(accept, &QPushButton::clicked, this, [this] { Decide(ReviewAct::kAccept); });
  } else {
    SetNext(tr("Back to the person"), PageId::kClinicPatient);
  }
}

void ClinicSessionPage::ShowResult() {
  const SessionDigest& digest = file_->measurement.digest;
  SetLead(words::BandText(digest.break_mm) + ": " + words::AnswerWord(digest.answer) + ".");
  const QString state = words::StateText(digest);
  if (!state.isEmpty()) body()->addWidget(parts::Text(state, "warm"));
  const StoredSession& shown = as_reviewed_;
  if (shown.estimate.break_mm && shown.plane == ReferencePlane::kCorneal) {
    body()->addWidget(new NearPointScale(shown.estimate, true));
  }
  QFrame* const card = parts::Card(tr("Can it be trusted?"));
  QVBoxLayout* const lines = parts::LayoutOf(card);
  lines->addWidget(parts::Text(
      tr("%1 of %n trial(s) count.", nullptr, digest.trials).arg(QLocale().toString(digest.used))));
  if (digest.seen) {
    lines->addWidget(parts::Text(
        tr("The camera saw the eyes in %1 % of the pictures.").arg(qRound(*digest.seen * 100))));
  }
  QString comfort = words::ComfortWord(digest.comfort) + ".";
  comfort[0] = comfort[0].toUpper();
  lines->addWidget(parts::Text(comfort));
  if (digest.said) {
    lines->addWidget(parts::Text(
        tr("Held against %1, the limit for the age that is known now. On its day it was "
           "held against %2: %3.")
            .arg(Centimeters(digest.cut_off.mm()), Centimeters(digest.said->cut_off.mm()),
                 words::AnswerWord(digest.said->answer)),
        "warm"));
  }
  if (digest.changed) {
    std::optional<Band> as_measured = stored_.estimate.break_mm;
    lines->addWidget(parts::Text(
        tr("As it was measured, before the review: %1.").arg(words::BandText(as_measured))));
  }
  // What the file itself says is in the language of the file.
  for (const std::string& sentence : course_.agreement) {
    lines->addWidget(parts::Text(QString::fromStdString(sentence), "quiet"));
  }
  for (const std::string& sentence : stored_.cautions) {
    lines->addWidget(parts::Text(QString::fromStdString(sentence), "quiet"));
  }
  body()->addWidget(card);
}

void ClinicSessionPage::ShowTrials() {
  if (reviewed_.empty()) return;
  QFrame* const card = parts::Card(tr("Trial by trial"));
  which_ = parts::NewComboBox();
  which_->setObjectName("which_trial");
  which_->setAccessibleName(tr("Trial to show"));
  for (const Trial& trial : reviewed_) {
    which_->addItem(
        tr("Trial %1: %2, %3")
            .arg(trial.number)
            .arg(BreakText(trial), trial.set_aside ? tr("– does not count") : tr("✓ counts")));
  }
  facts_ = parts::Text(QString());
  facts_->setObjectName("facts");
  auto* layout = parts::LayoutOf(card);
  layout->addWidget(which_, 0, Qt::AlignLeft);
  layout->addWidget(facts_);
  trace_ = new TraceView();
  layout->addWidget(trace_);
  layout->addWidget(parts::Text(
      tr("Solid: left eye, dotted: right eye, dashed: asked for. Triangles: what was reported. "
         "Diamonds: when an eye was seen to leave the target (filled) and to come back (open)."),
      "quiet"));
  auto pictures = clinic()->store.EyePictures(file_->measurement.id);
  if (!pictures) ShowTrouble(pictures.error());
  if (pictures && !pictures->empty()) {
    pictures_ = *std::move(pictures);
    eyes_ = new EyePictureView();
    layout->addWidget(eyes_);
  }
  connect(which_, &QComboBox::currentIndexChanged, this, &ClinicSessionPage::ShowTrial);
  body()->addWidget(card);
}

void ClinicSessionPage::ShowTrial(int index) {
  if (index < 0 || index >= static_cast<int>(reviewed_.size())) return;
  const auto place = static_cast<std::size_t>(index);
  StoredTrial shown;
  shown.trial = reviewed_[place];
  TraceView::Seen seen;
  QStringList text;
  text << tr("Two at %1, one again at %2.")
              .arg(BreakText(shown.trial), shown.trial.recovery
                                               ? Centimeters(shown.trial.recovery->value.value.mm())
                                               : "–");
  if (shown.trial.approach_speed) {
    text << tr("Approach at %1 mm a second.")
                .arg(QLocale().toString(shown.trial.approach_speed->mm_per_s(), 'f', 0));
  }
  if (place < course_.trials.size()) {
    const TrialCourse& course = course_.trials[place];
    shown.trial.start = course.start.value_or(Time());
    if (shown.trial.break_point && course.reported_double) {
      shown.trial.break_point->time = *course.reported_double;
    }
    if (shown.trial.recovery && course.reported_single) {
      shown.trial.recovery->time = *course.reported_single;
    }
    seen = {course.eyes_left, course.eyes_back};
    if (course.left_at) {
      const QString eye = course.drifting_eye == "left"    ? tr("the left eye")
                          : course.drifting_eye == "right" ? tr("the right eye")
                          : course.drifting_eye == "both"  ? tr("both eyes")
                                                           : tr("an eye");
      text << tr("In the pictures %1 left the target at %2.")
                  .arg(eye, Centimeters(course.left_at->mm()));
    }
    text << tr("Agreement: %1.").arg(words::AgreementWord(course.agreement));
    if (course.seen) text << tr("Seen in %1 % of its pictures.").arg(qRound(*course.seen * 100));
  }
  if (shown.trial.set_aside) text << tr("Does not count: %1").arg(SetAsideWords(shown.trial));
  facts_->setText(text.join(' '));
  if (auto track = clinic()->store.Track(file_->measurement.id, shown.trial.number)) {
    shown.track_jsonl = *std::move(track);
  }
  trace_->SetClinical(seen);
  trace_->SetTrial(shown);
  if (eyes_ != nullptr) eyes_->Show(pictures_, shown.trial.number);
  if (set_aside_ != nullptr) {
    set_aside_->setVisible(!shown.trial.set_aside);
    count_->setVisible(shown.trial.set_aside && HasBreak(shown.trial));
    set_aside_->setText(tr("Set trial %1 aside").arg(shown.trial.number));
    count_->setText(tr("Let trial %1 count").arg(shown.trial.number));
  }
}

void ClinicSessionPage::ShowDecision() {
  QFrame* const card = parts::Card(tr("Your decision"));
  QVBoxLayout* const layout = parts::LayoutOf(card);
  layout->addWidget(
      parts::Text(tr("The measurement stays as it came. Each step is kept with your name and "
                     "cannot be changed unseen; the estimate is made anew."),
                  "quiet"));
  reason_ = new QLineEdit();
  reason_->setObjectName("reason");
  reason_->setFont(look::Body());
  reason_->setPlaceholderText(tr("the reason, or a note"));
  reason_->setAccessibleName(tr("The reason, or a note"));
  layout->addWidget(reason_);
  auto* row = parts::NewRow();
  set_aside_ = Button(tr("Set aside"), "set_aside");
  count_ = Button(tr("Let it count"), "count");
  QPushButton* const note = Button(tr("Keep as a note"), "note");
  connect(set_aside_, &QPushButton::clicked, this, [this] { Decide(ReviewAct::kSetAside); });
  connect(count_, &QPushButton::clicked, this, [this] { Decide(ReviewAct::kCount); });
  connect(note, &QPushButton::clicked, this, [this] { Decide(ReviewAct::kNote); });
  for (QPushButton* button : {set_aside_, count_, note}) row->addWidget(button);
  row->addStretch(1);
  layout->addLayout(row);
  if (reviewed_.empty()) {
    set_aside_->hide();
    count_->hide();
  } else {
    ShowTrial(0);
  }
  for (const AuditEntry& entry : file_->review.entries()) {
    const QDateTime at = QDateTime::fromString(QString::fromStdString(entry.at), Qt::ISODate);
    layout->addWidget(
        parts::Text(tr("%1, %2: %3")
                        .arg(QLocale().toString(at.toLocalTime(), QLocale::ShortFormat),
                             QString::fromStdString(entry.by), words::StepText(entry)),
                    "soft"));
  }
  body()->addWidget(card);
}

void ClinicSessionPage::Decide(ReviewAct act) {
  const QString by = By();
  if (by.isEmpty()) return;
  AuditEntry entry;
  entry.at = context().store.Now().toUTC().toString(Qt::ISODate).toStdString();
  entry.by = by.toStdString();
  entry.act = act;
  entry.words = reason_->text().trimmed().toStdString();
  if (act == ReviewAct::kSetAside || act == ReviewAct::kCount) {
    entry.trial = reviewed_.at(static_cast<std::size_t>(which_->currentIndex())).number;
  }
  if (act != ReviewAct::kAccept && entry.words.empty()) {
    ShowTrouble(tr("Write the reason first: without one nobody could follow it later."));
    reason_->setFocus();
    return;
  }
  if (const auto done = clinic()->store.Review(file_->measurement.id, entry); !done) {
    ShowTrouble(done.error());
    return;
  }
  emit Wanted(act == ReviewAct::kAccept ? PageId::kClinicPatient : PageId::kClinicSession);
}

}  // namespace nearpoint
