// Who is in front of the window: a name and, if they want, a year of birth.
#pragma once

#include <optional>

#include "app/window/page.h"

class QLabel;
class QLineEdit;

namespace nearpoint {

class WelcomePage : public Page {
  Q_OBJECT

 public:
  explicit WelcomePage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override;

 private:
  void Continue();
  void ShowKnown();

  QLineEdit* name_;
  [[nodiscard]] std::optional<int> Year() const;

  QLineEdit* year_;
  QLabel* adult_;  // what a child needs
  QLabel* wrong_year_;
};

}  // namespace nearpoint
