// One patient: why to look, the time line, measurements, plan, findings, and what the law asks for.
#pragma once

#include "app/window/clinic/clinic.h"

class QListWidget;
class QVBoxLayout;

namespace nearpoint {

class PatientPage : public ClinicPage {
  Q_OBJECT

 public:
  explicit PatientPage(AppContext& context, QWidget* parent = nullptr);
  // Everything about the patient into that folder; the names of the files are fixed.
  void ExportTo(const QString& folder);
  // For good. Asked before by the page; tests call it at once.
  void DeleteNow();

 private:
  void ShowReasons();
  void ShowTimeLine();
  void ShowMeasurements();
  void ShowPlanAndFindings();
  void ShowWho(QVBoxLayout* layout);
  void ShowData();
  void OpenMeasurement(RowId measurement);

  Patient patient_;
  std::vector<KeptMeasurement> measurements_;  // oldest first
  QListWidget* list_ = nullptr;
};

}  // namespace nearpoint
