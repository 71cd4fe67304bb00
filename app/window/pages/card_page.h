// Calibration by the card, or what it costs to go without.
#pragma once

#include "app/window/page.h"

namespace nearpoint {

class CardPage : public Page {
  Q_OBJECT

 public:
  explicit CardPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override;
};

}  // namespace nearpoint
