// One measurement as the clinician sees it: what it says, each trial's course, and her decision
// about it.
#pragma once

#include "app/records/session_course.h"
#include "app/records/stored_session.h"
#include "app/report/session_words.h"
#include "app/window/clinic/clinic.h"

class QComboBox;
class QLineEdit;
class QPushButton;
class QVBoxLayout;

namespace nearpoint {

class EyePictureView;
class FhirPush;
class TokenField;
class TraceView;

class ClinicSessionPage : public ClinicPage {
  Q_OBJECT

 public:
  explicit ClinicSessionPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override { return PageId::kClinicPatient; }
  // One page for that reader into the file; and the FHIR bundle.
  void SaveReport(const QString& file, Reader reader);
  void SaveFhir(const QString& file);
  // To the server that is configured, as a transaction; says what became of it.
  void PushFhir();

 private:
  void ShowResult();
  void ShowTrials();
  void ShowTrial(int index);
  void ShowDecision();
  void ShowOutput();
  [[nodiscard]] bool MayGoTo(Reader reader);
  void ShowServer(QVBoxLayout* layout);
  // Absent after a sentence on what is missing.
  [[nodiscard]] std::optional<std::string> Bundle(bool transaction);
  void Decide(ReviewAct act);

  std::optional<MeasurementFile> file_;
  StoredSession stored_;
  StoredSession as_reviewed_;  // what a report states, against the limit of today
  SessionCourse course_;
  std::vector<Trial> reviewed_;  // with what the review did to them
  QComboBox* which_ = nullptr;
  QLabel* facts_ = nullptr;
  std::vector<EyePicture> pictures_;
  EyePictureView* eyes_ = nullptr;  // absent where no pictures were sent
  QVBoxLayout* trace_place_ = nullptr;
  TraceView* trace_ = nullptr;
  QLineEdit* reason_ = nullptr;
  TokenField* token_ = nullptr;
  FhirPush* push_ = nullptr;
  bool school_asked_ = false;
  QPushButton* set_aside_ = nullptr;
  QPushButton* count_ = nullptr;
};

}  // namespace nearpoint
