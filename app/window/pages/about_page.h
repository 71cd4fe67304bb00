// What this is and what it is not.
#pragma once

#include "app/window/page.h"

namespace nearpoint {

class AboutPage : public Page {
  Q_OBJECT

 public:
  explicit AboutPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override;
};

}  // namespace nearpoint
