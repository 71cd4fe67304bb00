// The measurement of one child at a station: the same as at home, without a page of instructions.
#pragma once

#include "app/window/event/at_event.h"
#include "app/window/pages/measure_page.h"

namespace nearpoint {

class StationChildPage : public MeasurePage {
  Q_OBJECT

 public:
  explicit StationChildPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] QString Who() const override { return WhereAtEvent(); }
  ~StationChildPage() override;
};

}  // namespace nearpoint
