// The station: who is next, found by a few letters, a number or a wristband; consent before
// anything else; and what goes wrong in a queue: the last one undone, two swapped, a break, another
// volunteer.
#pragma once

#include <optional>

#include "app/window/event/at_event.h"
#include "app/window/page.h"

class QLabel;
class QLineEdit;
class QListWidget;
class QFrame;

namespace nearpoint {

class EventContext;
class LivePicture;
struct ChildState;

class StationPage : public Page {
  Q_OBJECT

 public:
  explicit StationPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] QString Who() const override { return WhereAtEvent(); }
  ~StationPage() override;
  [[nodiscard]] PageId WayOut() const override { return PageId::kEvent; }
  // A picture of the scanner, mirrored as the preview has it: a wristband in it is taken.
  void Look(const QImage& mirrored);

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  void MakeFinder();
  void MakeConsent();
  void MakeResume();
  void MakeToday();
  void MakeAsides();
  void List();
  [[nodiscard]] const ChildState* Chosen() const;
  void Take();  // Return: the chosen child goes on
  // go_on: with the trials of this child that were not finished; absent: asked first where there
  // are any.
  // well: what the volunteer asks of today was answered with no; asked first otherwise.
  void Begin(bool anyway, std::optional<bool> go_on = std::nullopt, bool well = false);
  void NotToday();
  void ShowInterrupted();
  void Consent(bool given, const char* how);
  void UndoLast();
  void Swap();
  void HandOver();
  void Leave(int reason);
  void Scan();
  void Say(const QString& sentence, const char* role);
  void ShowLink();
  void ShowUnwritten();
  [[nodiscard]] bool Asking() const;  // a question stands open; the list behind it stays

  EventContext* event_ = nullptr;
  QLineEdit* typed_ = nullptr;
  QListWidget* list_ = nullptr;
  QFrame* consent_ = nullptr;
  QFrame* resume_ = nullptr;
  QFrame* today_ = nullptr;
  QLabel* today_who_ = nullptr;
  bool anyway_ = false;        // of the child that is asked about today
  std::optional<bool> go_on_;  // likewise
  QLabel* unwritten_ = nullptr;
  QLabel* resume_who_ = nullptr;
  QLabel* consent_who_ = nullptr;
  QLabel* said_ = nullptr;
  QLabel* last_ = nullptr;
  QLabel* link_ = nullptr;
  LivePicture* scanner_ = nullptr;
  bool asked_again_ = false;  // Return once more: the volunteer has read why not
  std::string swap_with_;     // the first of two that are swapped
};

}  // namespace nearpoint
