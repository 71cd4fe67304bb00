// How large the screen is, by a card that is held against it: for the exercise and for a letter on
// the screen.
#pragma once

#include "app/window/page.h"

class QLabel;

namespace nearpoint {

class ScreenCard;

class CardScreenPage : public Page {
  Q_OBJECT

 public:
  explicit CardScreenPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override { return PageId::kCard; }

 private:
  void Keep();
  // What the card says against what the screen says of itself; empty where they agree.
  [[nodiscard]] QString AgainstReported() const;

  ScreenCard* card_;
  QLabel* says_;
};

}  // namespace nearpoint
