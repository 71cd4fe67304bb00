// The measurement of one child at a station: the same as at home, without a page of instructions.
#pragma once

#include "app/window/pages/measure_page.h"

namespace nearpoint {

class StationChildPage : public MeasurePage {
  Q_OBJECT

 public:
  explicit StationChildPage(AppContext& context, QWidget* parent = nullptr);
  ~StationChildPage() override;
};

}  // namespace nearpoint
