// What is asked before a measurement or an exercise, one question at a time, and what to do where
// an answer stops it.
#pragma once

#include <optional>

#include "app/safety/safety_check.h"
#include "app/window/answer_guard.h"
#include "app/window/page.h"

class QPushButton;
class QVBoxLayout;

namespace nearpoint {

class Answers;

class SafetyPage : public Page {
  Q_OBJECT

 public:
  explicit SafetyPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override;
  [[nodiscard]] bool BeginsWithoutFocus() const override { return true; }

 private:
  void ShowStep();
  void Clear();
  void AskCheck();
  void Ask(SafetyQuestion question, const QString& above);
  void AddQuestion(const QString& text);
  void AnswersBeforeBack(const Answers& answers);
  void AskWhom();
  void ShowStopped(Stop stop);
  void ShowReady();
  void ShowNobodyYet();
  void ShowNoAdult();
  void ShowNotTold();
  void Say(const QString& heading, const QString& text, const char* role);
  void Answer(SafetyQuestion question, bool yes);
  void EndCheck();
  void GoOn();

  SafetyAnswers answers_;     // of the whole check, so far
  bool asks_check_ = false;   // wanted by the person, or due
  QWidget* shown_ = nullptr;  // what is asked or said now
  QVBoxLayout* column_ = nullptr;
  QPushButton* back_;
  AnswerGuard guard_;
};

}  // namespace nearpoint
