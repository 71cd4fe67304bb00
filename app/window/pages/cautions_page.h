// When not to measure, and when to stop.
#pragma once

#include "app/window/page.h"

namespace nearpoint {

class CautionsPage : public Page {
  Q_OBJECT

 public:
  explicit CautionsPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override;

 private:
  void ShowApplies();
};

}  // namespace nearpoint
