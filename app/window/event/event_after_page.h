// After the event, for its organiser: numbers, who needs what, letters, files, and the end of all
// of it.
#pragma once

#include <functional>

#include "app/window/event/at_event.h"
#include "app/window/page.h"

class QLabel;
class QLineEdit;

namespace nearpoint {

class EventContext;
struct ChildState;

class EventAfterPage : public Page {
  Q_OBJECT

 public:
  explicit EventAfterPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] QString Who() const override { return WhereAtEvent(); }
  [[nodiscard]] PageId WayOut() const override { return PageId::kEvent; }
  // For the dialogs' place in tests.
  void WriteLetters(const QString& file);
  void Export(const QString& folder);

 private:
  void MakeNumbers();
  void MakeLookedAfter();
  void MakeConflicts();
  void MakeSharedNumbers();
  void MakeList();
  void MakeFiles();
  void MakeEnd();
  void Delete();
  void Say(const QString& sentence);

  EventContext* event_ = nullptr;
  QLabel* said_ = nullptr;
  QLineEdit* confirm_ = nullptr;
};

}  // namespace nearpoint
