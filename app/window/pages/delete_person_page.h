// Everything about the person in front of the window, deleted: what it is, asked twice, and what
// stays.
#pragma once

#include "app/store/delete_person.h"
#include "app/window/page.h"

class QFrame;
class QPushButton;

namespace nearpoint {

class DeletePersonPage : public Page {
  Q_OBJECT

 public:
  explicit DeletePersonPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override { return PageId::kSettings; }

 private:
  void ShowHoldings(const PersonHoldings& holdings);
  void Ask();
  void Delete();
  void ForgetToken();
  void Say(const QString& text, const char* role);

  QString name_;
  bool last_ = false;  // nobody else is in the file
  QPushButton* delete_ = nullptr;
  QFrame* sure_ = nullptr;
};

}  // namespace nearpoint
