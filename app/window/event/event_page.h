// A school event at this computer: what to do next, and how this station is connected.
#pragma once

#include "app/window/event/at_event.h"
#include "app/window/page.h"

class QLabel;
class QLineEdit;

namespace nearpoint {

class EventContext;

class EventPage : public Page {
  Q_OBJECT

 public:
  explicit EventPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] QString Who() const override { return WhereAtEvent(); }
  // The server that a file names (JoinServer).
  void Join(const QString& file);

 private:
  void Lead(const char* name, const QString& title, const QString& line, PageId page);
  void MakeStationCard();
  void MakeDeletionCard();
  void ShowDeletion();
  void Connect();
  void ShowLink();

  EventContext* event_ = nullptr;
  QLineEdit* name_ = nullptr;
  QLineEdit* server_ = nullptr;
  QLineEdit* volunteer_ = nullptr;
  QLabel* link_ = nullptr;
  QLabel* deletion_ = nullptr;  // null where nothing is being deleted
};

}  // namespace nearpoint
