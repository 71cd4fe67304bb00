// The card in practice: the same steps with the simulated person, and nothing of it is kept.
#pragma once

#include "app/window/page.h"

class QVBoxLayout;

namespace nearpoint {

class PracticeCardPage : public Page {
  Q_OBJECT

 public:
  explicit PracticeCardPage(AppContext& context, QWidget* parent = nullptr);
};

}  // namespace nearpoint
