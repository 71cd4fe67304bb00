// How the person feels after a measurement. The answer ends the session.
#pragma once

#include "app/window/answer_guard.h"
#include "app/window/page.h"

namespace nearpoint {

class ComfortPage : public Page {
  Q_OBJECT

 public:
  explicit ComfortPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override { return PageId::kResult; }
  [[nodiscard]] bool BeginsWithoutFocus() const override { return true; }

 private:
  void Answer(const QString& comfort);

  AnswerGuard guard_;  // the last key of the measurement is no answer
};

}  // namespace nearpoint
