#include "app/window/event/event_roster_page.h"

#include <QComboBox>
#include <QDate>
#include <QFileDialog>
#include <QFormLayout>
#include <QFrame>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QVBoxLayout>

#include "app/window/event/event_context.h"
#include "app/window/event/event_words.h"
#include "app/window/event/small_button.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

RosterRules RulesOf(const EventDesk& desk) {
  const QDate day = QDate::fromString(QString::fromStdString(desk.state().event.day), Qt::ISODate);
  RosterRules rules;
  rules.year = day.year();
  rules.month = day.month();
  rules.day = day.day();
  return rules;
}

}  // namespace

EventRosterPage::EventRosterPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent) {
  SetHeading(tr("The list of children"));
  SetLead(tr(
      "A CSV file or a workbook with one child a row. The order of the columns does not matter."));
  auto* row = new QHBoxLayout();
  file_ = new QLineEdit();
  file_->setObjectName("file");
  file_->setFont(look::Body());
  file_->setAccessibleName(tr("File"));
  file_->setPlaceholderText(tr("path of the file"));
  QPushButton* const choose = SmallButton(tr("Choose ..."), "choose");
  row->addWidget(file_, 1);
  row->addWidget(choose);
  body()->addLayout(row);
  connect(choose, &QPushButton::clicked, this, [this] {
    const QString file = QFileDialog::getOpenFileName(
        this, tr("The list of children"), QString(), tr("Tables (*.csv *.txt *.tsv *.xlsx *.ods)"));
    if (!file.isEmpty()) Read(file);
  });
  connect(file_, &QLineEdit::editingFinished, this, [this] { Read(file_->text().trimmed()); });
  summary_ = parts::Text(QString());
  summary_->setObjectName("summary");
  body()->addWidget(summary_);
  faults_ = new QListWidget();
  faults_->setObjectName("faults");
  faults_->setAccessibleName(tr("What is wrong, row by row"));
  faults_->setWordWrap(true);
  faults_->setMinimumHeight(look::Art(160));
  faults_->setFont(look::Body());
  faults_->hide();
  body()->addWidget(faults_, 1);
  MakeColumns();
  body()->addStretch(1);
  next_ = SetNext(tr("Take them over"));
  next_->setEnabled(false);
  connect(next_, &QPushButton::clicked, this, &EventRosterPage::Import);
  AddAside(tr("Back"), PageId::kEvent);
}

std::array<QString, kRosterFields> EventRosterPage::FieldTitles() {
  return {tr("Number"), tr("Name or first name"), tr("Family name"), tr("Class"),
          tr("Age"),    tr("Day of birth"),       tr("Consent")};
}

void EventRosterPage::MakeColumns() {
  unknown_card_ = parts::Card(tr("Not understood: what is it?"));
  parts::LayoutOf(unknown_card_)
      ->addWidget(parts::Text(
          tr("Nothing is taken over until each of these columns has an answer. One of them may be "
             "the parents' answer."),
          "quiet"));
  unknown_card_->hide();
  body()->addWidget(unknown_card_);
  columns_card_ = parts::Card(tr("Which column is what"));
  auto* form = new QFormLayout();
  form->setRowWrapPolicy(QFormLayout::WrapLongRows);
  form->setHorizontalSpacing(look::Px(16));
  const std::array<QString, kRosterFields> titles = FieldTitles();
  for (std::size_t i = 0; i < kRosterFields; ++i) {
    columns_[i] = parts::NewComboBox(columns_card_);
    columns_[i]->setObjectName(QString("column_%1").arg(i));
    columns_[i]->setAccessibleName(titles[i]);
    form->addRow(parts::Text(titles[i]), columns_[i]);
    connect(columns_[i], &QComboBox::currentIndexChanged, this, &EventRosterPage::Check);
  }
  parts::LayoutOf(columns_card_)->addLayout(form);
  columns_card_->hide();
  body()->addWidget(columns_card_);
}

void EventRosterPage::Read(const QString& file) {
  if (file.isEmpty()) return;
  file_->setText(file);
  roster_.reset();
  not_needed_.clear();
  unknown_card_->hide();
  next_->setEnabled(false);
  const auto event = EventContext::Of(context());
  auto bytes = ReadTextFile(file.toStdString());
  if (!event || (*event)->desk() == nullptr || !bytes) {
    summary_->setText(bytes ? tr("There is no event on this computer yet.")
                            : words::ForError(bytes.error()));
    return;
  }
  bytes_ = *std::move(bytes);
  auto roster = ReadRoster(bytes_, file.toStdString(), RulesOf(*(*event)->desk()));
  if (!roster) {
    columns_card_->hide();
    faults_->hide();
    summary_->setText(words::ForError(roster.error()));
    return;
  }
  roster_ = *std::move(roster);
  ShowColumns();
  Check();
  // Where large text leaves little room, what is to be done comes into sight.
  QMetaObject::invokeMethod(
      this,
      [this] {
        for (QWidget* above = summary_; above != nullptr; above = above->parentWidget()) {
          if (auto* const area = qobject_cast<QScrollArea*>(above)) {
            area->ensureWidgetVisible(summary_);
          }
        }
      },
      Qt::QueuedConnection);
}

void EventRosterPage::ShowColumns() {
  for (std::size_t i = 0; i < kRosterFields; ++i) {
    const QSignalBlocker quiet(columns_[i]);
    columns_[i]->clear();
    columns_[i]->addItem(tr("– none –"));
    for (const std::string& column : roster_->header) {
      columns_[i]->addItem(QString::fromStdString(column));
    }
    const auto& column = roster_->columns[i];
    columns_[i]->setCurrentIndex(column ? static_cast<int>(*column) + 1 : 0);
  }
  columns_card_->show();
}

void EventRosterPage::Check() {
  const auto event = EventContext::Of(context());
  if (!roster_ || !event || (*event)->desk() == nullptr) return;
  RosterColumns columns;
  for (std::size_t i = 0; i < kRosterFields; ++i) {
    const int index = columns_[i]->currentIndex();
    if (index > 0) columns[i] = static_cast<std::size_t>(index - 1);
  }
  auto roster = ReadRoster(bytes_, file_->text().toStdString(), RulesOf(*(*event)->desk()), columns,
                           not_needed_);
  if (!roster) return;
  roster_ = *std::move(roster);
  faults_->clear();
  for (const RosterFault& fault : roster_->faults) {
    QString line = words::ForSentence(fault.sentence);
    if (!fault.column.empty()) line = QString::fromStdString(fault.column) + ": " + line;
    if (fault.line > 0) line = tr("Row %1").arg(fault.line) + " · " + line;
    faults_->addItem(line);
  }
  const bool fine = roster_->faults.empty();
  faults_->setVisible(!fine);
  ShowUnknown();
  next_->setEnabled(fine);
  const int children = static_cast<int>(roster_->children.size());
  summary_->setText(
      fine ? tr("✓ %n children, nothing wrong.", nullptr, children)
      : (roster_->rows_with_faults == 0 && !roster_->unknown.empty())
          ? tr("! Nothing is taken over yet: say below what each column is.")
          : tr("! Nothing is taken over while something is wrong: mend these rows in the file and "
               "read it again. Rows with mistakes: %1 of %2.")
                .arg(roster_->rows_with_faults)
                .arg(roster_->rows));
}

void EventRosterPage::ShowUnknown() {
  // One of its own boxes may be what called.
  if (unknown_ != nullptr) {
    unknown_->hide();
    unknown_->deleteLater();
  }
  unknown_ = new QWidget(unknown_card_);
  auto* form = new QFormLayout(unknown_);
  form->setContentsMargins(0, 0, 0, 0);
  form->setRowWrapPolicy(QFormLayout::WrapLongRows);
  form->setHorizontalSpacing(look::Px(16));
  const auto titles = FieldTitles();
  for (const UnknownColumn& column : roster_->unknown) {
    QString name = column.name.empty() ? tr("column %1").arg(column.column + 1)
                                       : QString::fromStdString(column.name);
    if (!column.example.empty()) {
      name = tr("%1 (such as: %2)").arg(name, QString::fromStdString(column.example));
    }
    QComboBox* const what = parts::NewComboBox(unknown_);
    what->setObjectName(QString("unknown_%1").arg(column.column));
    what->setAccessibleName(name);
    what->addItem(tr("– choose –"));
    what->addItem(tr("not needed"));
    for (const QString& title : titles) what->addItem(title);
    form->addRow(parts::Text(name), what);
    connect(what, &QComboBox::activated, this, [this, at = column.column](int index) {
      constexpr int kNotNeeded = 1;
      if (index == kNotNeeded) {
        not_needed_.insert(at);
        Check();
      } else if (index > kNotNeeded) {
        columns_[static_cast<std::size_t>(index - kNotNeeded - 1)]->setCurrentIndex(
            static_cast<int>(at) + 1);
      }
    });
  }
  parts::LayoutOf(unknown_card_)->addWidget(unknown_);
  unknown_card_->setVisible(!roster_->unknown.empty());
}

void EventRosterPage::Import() {
  const auto event = EventContext::Of(context());
  if (!roster_ || !event || (*event)->desk() == nullptr) return;
  const auto imported = (*event)->desk()->Import(*roster_);
  if (!imported) {
    summary_->setText(words::ForError(imported.error()));
    return;
  }
  (*event)->Nudge();
  emit Wanted(PageId::kEvent);
}

}  // namespace nearpoint
