// All measurements of this person.
#pragma once

#include "app/window/page.h"

namespace nearpoint {

class PastPage : public Page {
  Q_OBJECT

 public:
  explicit PastPage(AppContext& context, QWidget* parent = nullptr);
};

}  // namespace nearpoint
