#include "app/window/clinic/receive_page.h"

#include <QComboBox>
#include <QDir>
#include <QDragEnterEvent>
#include <QDropEvent>
#include <QFileDialog>
#include <QFrame>
#include <QMimeData>
#include <QPushButton>
#include <QUrl>
#include <QVBoxLayout>

#include "app/review/audit_log.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr const char* kEnding = "*.nearpoint";

void Clear(QVBoxLayout* layout) {
  while (QLayoutItem* item = layout->takeAt(0)) {
    if (QWidget* const gone = item->widget()) {
      gone->hide();  // at once: it goes when the events do
      gone->deleteLater();
    }
    delete item;
  }
}

}  // namespace

ReceivePage::ReceivePage(AppContext& the_context, QWidget* parent)
    : ClinicPage(the_context, parent) {
  SetHeading(tr("Receive"));
  SetLead(tr("Drop sealed files here, or choose them."));
  AddAside(tr("All patients"), PageId::kClinic);
  setAcceptDrops(true);
  QPushButton* const choose = SetNext(tr("Choose files ..."));
  choose->setObjectName("choose");
  connect(choose, &QPushButton::clicked, this, [this] {
    Take(QFileDialog::getOpenFileNames(this, tr("Sealed files"), QString(),
                                       tr("Sealed files (*.nearpoint);;All files (*)")));
  });
  const auto place = [this] {
    auto* box = new QWidget();
    auto* layout = new QVBoxLayout(box);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(look::Px(10));
    body()->addWidget(box);
    return layout;
  };
  outcome_ = place();
  server_ = place();
  waiting_ = place();
  body()->addStretch(1);
  if (clinic() == nullptr) {
    choose->setEnabled(false);
    return;
  }
  const QString folder = clinic()->store.Setting("watched_folder");
  if (!folder.isEmpty()) {
    watcher_.addPath(folder);
    connect(&watcher_, &QFileSystemWatcher::directoryChanged, this, &ReceivePage::LookIntoFolder);
    LookIntoFolder();
  }
  ShowServer();
  ShowWaiting();
}

void ReceivePage::dragEnterEvent(QDragEnterEvent* event) {
  if (event->mimeData()->hasUrls()) event->acceptProposedAction();
}

void ReceivePage::dropEvent(QDropEvent* event) {
  QStringList files;
  for (const QUrl& url : event->mimeData()->urls()) {
    if (url.isLocalFile()) files << url.toLocalFile();
  }
  event->acceptProposedAction();
  Take(files);
}

// Files that were looked at before are told by name, time and size, so that a folder may keep them.
void ReceivePage::LookIntoFolder() {
  const QDir folder(clinic()->store.Setting("watched_folder"));
  if (!folder.exists()) {
    ShowTrouble(tr("%1: the folder to be watched is not there.").arg(folder.path()));
    return;
  }
  QStringList fresh;
  for (const QFileInfo& info : folder.entryInfoList({kEnding}, QDir::Files, QDir::Time)) {
    // As a hash: the name of a file may be the name of a person.
    const QString key = "seen:" + QString::fromStdString(HashOf(info.fileName().toStdString()));
    const QString stamp = QString::number(info.lastModified().toMSecsSinceEpoch()) + "/" +
                          QString::number(info.size());
    if (clinic()->store.Setting(key) == stamp) continue;
    // What cannot be kept is only asked for again.
    static_cast<void>(clinic()->store.SetSetting(key, stamp));
    fresh << info.filePath();
  }
  if (!fresh.isEmpty()) Take(fresh);
}

std::optional<OwnKeys> ReceivePage::Keys() {
  auto keys = clinic()->keys.Load();
  if (keys) return *std::move(keys);
  ShowTrouble(keys.error().code == ErrorCode::kNotFound
                  ? tr("This clinic has no keys yet. Make them under \"Set up\"; homes need its "
                       "card before they can send.")
                  : words::ForError(keys.error()));
  return std::nullopt;
}

void ReceivePage::Take(const QStringList& files) {
  if (clinic() == nullptr || files.isEmpty()) return;
  const auto keys = Keys();
  if (!keys) return;
  QStringList lines;
  for (const QString& file : files) {
    lines << QFileInfo(file).fileName() + ": " + TakeOne(*keys, file);
  }
  ShowOutcome(lines);
}

void ReceivePage::ShowOutcome(const QStringList& lines) {
  Clear(outcome_);
  QFrame* const card = parts::Card(tr("What came"));
  for (const QString& line : lines) parts::LayoutOf(card)->addWidget(parts::Text(line));
  outcome_->addWidget(card);
  ShowWaiting();
}

QString ReceivePage::TakeOne(const OwnKeys& keys, const QString& file) {
  if (QFileInfo(file).size() > static_cast<qint64>(kMostSealedBytes)) {
    return QStringLiteral("✗ ") + tr("larger than a sealed file may be; it was not opened.");
  }
  const auto text = ReadTextFile(file.toStdString());
  if (!text) return QStringLiteral("✗ ") + words::ForError(text.error());
  return TakeBytes(keys, ViewOf(*text)).sentence;
}

ReceivePage::Taken ReceivePage::TakeBytes(const OwnKeys& keys, ByteView file) {
  const auto receipt = Receive(clinic()->store, file, keys.identity);
  if (!receipt) {
    const QString told = words::Detail(receipt.error());
    const QString detail = told.isEmpty() ? told : " (" + told + ")";
    return {QStringLiteral("✗ ") +
            (receipt.error().code == ErrorCode::kMismatch
                 ? tr("sealed for somebody else, not for this clinic.")
                 : tr("not taken: it is damaged, was tampered with, or is no sealed file that this "
                      "version knows.")) +
            detail};
  }
  return {Sentence(*receipt), receipt->outcome == Receipt::Outcome::kDuplicate};
}

QString ReceivePage::Sentence(const Receipt& receipt) {
  QString text;
  switch (receipt.outcome) {
    case Receipt::Outcome::kDuplicate:
      return QStringLiteral("= ") + tr("was here before; nothing changed.");
    case Receipt::Outcome::kWaiting:
      return QStringLiteral("… ") +
             tr("from \"%1\", who is not known yet; it waits below.").arg(receipt.said);
    case Receipt::Outcome::kTaken: {
      const auto patient = clinic()->store.FindPatient(receipt.patient);
      text = QStringLiteral("✓ ") +
             tr("%n new measurement(s) of %1.", nullptr, receipt.new_measurements)
                 .arg(patient ? patient->name : receipt.said);
      if (receipt.known_measurements > 0) {
        text += ' ' + tr("%n were here already.", nullptr, receipt.known_measurements);
      }
    }
  }
  for (const std::string& note : receipt.notes) text += ' ' + QString::fromStdString(note);
  return text;
}

void ReceivePage::ShowWaiting() {
  Clear(waiting_);
  const auto waiting = Waiting(clinic()->store);
  const auto patients = clinic()->store.Patients(Today());
  if (!waiting || !patients) {
    ShowTrouble(!waiting ? waiting.error() : patients.error());
    return;
  }
  if (waiting->empty()) {
    waiting_->addWidget(parts::Text(tr("Nothing waits to be matched to a person."), "quiet"));
    return;
  }
  for (const WaitingPackage& one : *waiting) AddWaiting(one, *patients);
}

void ReceivePage::AddWaiting(const WaitingPackage& one, const std::vector<PatientRow>& patients) {
  QFrame* const card = parts::Card(tr("Waiting: whose is this?"));
  QVBoxLayout* const layout = parts::LayoutOf(card);
  layout->addWidget(parts::Text(tr("The sender calls themselves \"%1\".").arg(one.said)));
  if (one.card_is_known) {
    layout->addWidget(parts::Text(tr("This device already sends for another person: perhaps one of "
                                     "the same family."),
                                  "warm"));
  }
  auto* print = parts::Text(tr("Fingerprint: %1").arg(QString::fromStdString(one.fingerprint)));
  print->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
  layout->addWidget(print);
  layout->addWidget(parts::Text(tr("Have them read out their fingerprint, by telephone or face to "
                                   "face, and compare it: only then it is certain who sent this."),
                                "quiet"));
  layout->addWidget(parts::Text(
      tr("%n file(s) inside.", nullptr, static_cast<int>(one.inside.size()) - 1), "quiet"));
  auto* row = parts::NewRow();
  auto* who = parts::NewComboBox();
  who->setObjectName("who");
  who->setAccessibleName(tr("Whose it is"));
  who->addItem(tr("a new person named \"%1\"").arg(one.said), 0);
  for (const PatientRow& patient : patients) {
    who->addItem(patient.patient.number.isEmpty()
                     ? patient.patient.name
                     : patient.patient.name + " · " + patient.patient.number,
                 patient.patient.id);
  }
  // As wide as there is room for: a long name must not widen the page.
  constexpr int kLetters = 26;
  who->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
  who->setMinimumContentsLength(kLetters);
  who->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
  constexpr int kWidestBox = 420;
  who->setMaximumWidth(look::Px(kWidestBox));
  auto* match = new QPushButton(tr("It is this person"));
  match->setObjectName("match");
  auto* refuse = new QPushButton(tr("Refuse and delete"));
  refuse->setObjectName("refuse");
  for (QPushButton* button : {match, refuse}) {
    button->setFont(look::Body());
    button->setProperty("role", "way_out");
    button->setAutoDefault(true);
  }
  connect(match, &QPushButton::clicked, this, [this, one, who] {
    const QString by = By();
    if (by.isEmpty()) return;
    RowId patient = who->currentData().toLongLong();
    if (patient == 0) {
      Patient fresh;
      fresh.name = one.said;
      const auto added = clinic()->store.AddPatient(fresh);
      if (!added) {
        ShowTrouble(added.error());
        return;
      }
      patient = added->id;
    }
    const auto receipt = MatchSender(clinic()->store, one.card, one.said, patient, by);
    if (!receipt) {
      ShowTrouble(receipt.error());
      return;
    }
    ShowDone(Sentence(*receipt));
    ShowWaiting();
  });
  connect(refuse, &QPushButton::clicked, this, [this, id = one.id] {
    const QString by = By();
    if (by.isEmpty()) return;
    if (const auto refused = RefuseWaiting(clinic()->store, id, by); !refused) {
      ShowTrouble(refused.error());
      return;
    }
    ShowWaiting();
  });
  row->addWidget(who);
  row->addWidget(match);
  row->addWidget(refuse);
  row->addStretch(1);
  layout->addLayout(row);
  waiting_->addWidget(card);
}

}  // namespace nearpoint
