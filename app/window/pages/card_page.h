// Calibration by the card: what it is good for, what has been measured, and what it costs to go
// without.
#pragma once

#include "app/window/page.h"

class QLabel;
class QVBoxLayout;

namespace nearpoint {

class CardPage : public Page {
  Q_OBJECT

 public:
  explicit CardPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override;

 private:
  void AddSheet();
  void SaveSheet();
  void Say(const QString& text);

  QVBoxLayout* parts_ = nullptr;
  QLabel* says_ = nullptr;
};

}  // namespace nearpoint
