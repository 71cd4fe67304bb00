// What was found in the office, beside what home measured, and the published criteria over both.
#pragma once

#include <vector>

#include "app/window/clinic/clinic.h"

class QLineEdit;
class QVBoxLayout;

namespace nearpoint {

class FindingsPage : public ClinicPage {
  Q_OBJECT

 public:
  explicit FindingsPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override { return PageId::kClinicPatient; }

 private:
  // Absent after a word that is no number, which is then said.
  [[nodiscard]] std::optional<ContextValues> Read();
  void ShowCriteria();
  void Keep();

  std::vector<QLineEdit*> fields_;
  QLineEdit* words_ = nullptr;
  QVBoxLayout* criteria_ = nullptr;
};

}  // namespace nearpoint
