// Where the letter is, seen from the lens: measured with a ruler or with the card as a ruler.
#pragma once

#include "app/window/page.h"

class QDoubleSpinBox;
class QLabel;

namespace nearpoint {

class CardTargetPage : public Page {
  Q_OBJECT

 public:
  explicit CardTargetPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override { return PageId::kCard; }

 private:
  void Keep();

  bool on_screen_;
  QDoubleSpinBox* below_ = nullptr;
  QDoubleSpinBox* right_ = nullptr;
  QLabel* says_ = nullptr;
};

}  // namespace nearpoint
