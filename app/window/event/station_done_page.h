// After a child: thanks, the same for every result, and the way to the next.
#pragma once

#include "app/window/event/at_event.h"
#include "app/window/page.h"

class QLabel;

namespace nearpoint {

class StationDonePage : public Page {
  Q_OBJECT

 public:
  explicit StationDonePage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] QString Who() const override { return WhereAtEvent(); }
  [[nodiscard]] PageId WayOut() const override { return PageId::kStation; }

 private:
  void Say(const QString& sentence);

  QLabel* said_ = nullptr;
};

}  // namespace nearpoint
