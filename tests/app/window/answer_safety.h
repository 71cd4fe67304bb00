// Somebody to whom nothing applies answers the questions before a measurement or an exercise, as
// far as the page that was wanted.
#pragma once

#include <QCoreApplication>
#include <QPushButton>
#include <QString>

#include "app/window/answers.h"
#include "app/window/main_window.h"

namespace nearpoint {

inline void HandleEvents() {
  for (int i = 0; i < 5; ++i) QCoreApplication::processEvents();
  // What was asked before.
  QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
}

// That button of the page, as it is shown now; null: there is none.
inline QPushButton* ShownButton(const MainWindow& window, const QString& name) {
  for (QPushButton* button : window.page()->findChildren<QPushButton*>(name)) {
    if (!button->isHidden() && button->isVisibleTo(window.page())) return button;
  }
  return nullptr;
}

inline bool Choose(const MainWindow& window, const QString& name) {
  QPushButton* const button = ShownButton(window, name);
  if (button == nullptr) return false;
  button->click();
  HandleEvents();
  return true;
}

// Which question stands on the page: as it is called in files; empty: none.
inline QString AskedNow(const MainWindow& window) {
  for (const Answers* answers : window.page()->findChildren<Answers*>()) {
    if (answers->isVisibleTo(window.page())) return answers->objectName();
  }
  return {};
}

inline void AnswerSafety(MainWindow& window) {
  HandleEvents();
  constexpr int kMost = 20;
  for (int i = 0; i < kMost && window.shown() == PageId::kSafety; ++i) {
    if (Choose(window, "continue")) continue;
    const QString asked = AskedNow(window);
    const bool yes = asked == "adult_beside" || asked == "told_to_exercise";
    if (!Choose(window, yes ? "yes" : "no")) return;
  }
}

inline void ShowAnswered(MainWindow& window, PageId page) {
  window.Show(page);
  AnswerSafety(window);
}

}  // namespace nearpoint
