// The diary: days done, what is due today, and how near the person gets over time.
#pragma once

#include "app/window/page.h"

namespace nearpoint {

class DiaryPage : public Page {
  Q_OBJECT

 public:
  explicit DiaryPage(AppContext& context, QWidget* parent = nullptr);

 private:
  void ShowTrouble(const QString& sentence);
};

}  // namespace nearpoint
