// The exercise plan of one patient: written, kept, and sealed to the device at home.
#pragma once

#include "app/window/clinic/clinic.h"

class QCheckBox;
class QFormLayout;
class QLineEdit;
class QPlainTextEdit;
class QSpinBox;

namespace nearpoint {

class PlanPage : public ClinicPage {
  Q_OBJECT

 public:
  explicit PlanPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override { return PageId::kClinicPatient; }
  // The plan as the page shows it, kept and written sealed into the file.
  void SealTo(const QString& file);

 private:
  void Fill(const ExercisePlan& plan);
  // Absent after a sentence on what is wrong.
  [[nodiscard]] std::optional<ExercisePlan> Read(const QString& by);
  bool Keep(const QString& by, const ExercisePlan& plan);
  QLineEdit* Line(QFormLayout* form, const char* name, const QString& label);
  // Says which of the distances lie nearer than where this person saw two.
  void SayWhatIsNearer();

  Patient patient_;
  std::optional<Length> break_;  // of the newest measurement with one, from the cornea
  QLabel* nearer_ = nullptr;
  QLineEdit *levels_ = nullptr, *starts_ = nullptr, *until_ = nullptr, *measure_on_ = nullptr;
  QSpinBox *repetitions_ = nullptr, *hold_ = nullptr, *first_level_ = nullptr, *days_ = nullptr;
  QCheckBox* mornings_ = nullptr;
  QPlainTextEdit *stop_ = nullptr, *note_ = nullptr;
};

}  // namespace nearpoint
