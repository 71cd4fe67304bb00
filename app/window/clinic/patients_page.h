// The list of patients: who needs a look first, and why.
#pragma once

#include "app/window/clinic/clinic.h"

class QLineEdit;
class QListView;

namespace nearpoint {

class PatientList;

class PatientsPage : public ClinicPage {
  Q_OBJECT

 public:
  explicit PatientsPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override { return PageId::kHome; }

 private:
  void Fill();
  void OpenChosen();

  std::vector<PatientRow> rows_;
  QLineEdit* search_ = nullptr;
  QListView* view_ = nullptr;
  PatientList* list_ = nullptr;
};

}  // namespace nearpoint
