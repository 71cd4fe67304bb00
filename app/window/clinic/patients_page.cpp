#include "app/window/clinic/patients_page.h"

#include <QLineEdit>
#include <QListView>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/clinic_store/receive.h"
#include "app/window/clinic/patient_list.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {

PatientsPage::PatientsPage(AppContext& the_context, QWidget* parent)
    : ClinicPage(the_context, parent) {
  SetHeading(tr("Who needs a look"));
  AddAside(tr("Back to the start"), PageId::kHome);
  if (clinic() == nullptr) {
    body()->addStretch(1);
    return;
  }
  AddAside(tr("Set up"), PageId::kClinicSetup)->setObjectName("setup");
  const auto waiting = Waiting(clinic()->store);
  if (!waiting) ShowTrouble(waiting.error());
  const bool any = waiting && !waiting->empty();
  AddAside(
      any ? tr("Receive (%n waiting)", nullptr, static_cast<int>(waiting->size())) : tr("Receive"),
      PageId::kClinicReceive)
      ->setObjectName("receive");

  search_ = new QLineEdit();
  search_->setObjectName("search");
  search_->setFont(look::Body());
  search_->setPlaceholderText(tr("name or number"));
  search_->setAccessibleName(tr("Find a patient by name or number"));
  search_->setClearButtonEnabled(true);
  body()->addWidget(search_);
  view_ = new QListView();
  view_->setObjectName("patients");
  view_->setAccessibleName(tr("Patients, the most urgent first"));
  view_->setUniformItemSizes(true);
  view_->setMinimumHeight(look::Px(260));
  view_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  view_->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
  list_ = new PatientList(this);
  view_->setModel(list_);
  view_->setItemDelegate(new PatientDelegate(view_));
  body()->addWidget(view_, 1);
  QPushButton* const open = SetNext(tr("Open"));
  open->setObjectName("open");
  connect(open, &QPushButton::clicked, this, &PatientsPage::OpenChosen);
  connect(view_, &QListView::activated, this, &PatientsPage::OpenChosen);
  connect(search_, &QLineEdit::textChanged, this, [this](const QString& words) {
    list_->Show(rows_, words.trimmed());
    if (list_->rowCount() > 0) view_->setCurrentIndex(list_->index(0));
  });
  Fill();
  view_->setFocus();
}

void PatientsPage::Fill() {
  auto rows = clinic()->store.Patients(Today());
  if (!rows) {
    ShowTrouble(rows.error());
    return;
  }
  rows_ = *std::move(rows);
  const auto asking =
      std::ranges::count_if(rows_, [](const PatientRow& row) { return !row.reasons.empty(); });
  if (rows_.empty()) {
    SetLead(
        tr("Nobody is here yet. \"Set up\" makes the keys of this clinic; \"Receive\" takes in "
           "what homes send."));
    view_->hide();
    search_->hide();
    findChild<QPushButton*>("open")->hide();
    body()->addStretch(1);
    return;
  }
  SetLead(tr("%1 of %n patient(s) have something that asks for a look, the most urgent first.",
             nullptr, static_cast<int>(rows_.size()))
              .arg(asking));
  list_->Show(rows_, QString());
  view_->setCurrentIndex(list_->index(0));
}

void PatientsPage::OpenChosen() {
  const QModelIndex chosen = view_->currentIndex();
  if (!chosen.isValid()) return;
  clinic()->patient = list_->At(chosen.row()).patient.id;
  emit Wanted(PageId::kClinicPatient);
}

}  // namespace nearpoint
