// The list of children from a file: which column is what, what is wrong in which row, and then all
// of them or none.
#pragma once

#include <array>
#include <optional>
#include <set>
#include <string>

#include "app/event/roster.h"
#include "app/window/event/at_event.h"
#include "app/window/page.h"

class QComboBox;
class QFrame;
class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;

namespace nearpoint {

class EventRosterPage : public Page {
  Q_OBJECT

 public:
  explicit EventRosterPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] QString Who() const override { return WhereAtEvent(); }
  [[nodiscard]] PageId WayOut() const override { return PageId::kEvent; }
  void Read(const QString& file);

 private:
  static std::array<QString, kRosterFields> FieldTitles();
  void MakeColumns();
  void ShowColumns();
  void ShowUnknown();
  void Check();
  void Import();

  QLineEdit* file_ = nullptr;
  QFrame* columns_card_ = nullptr;
  std::array<QComboBox*, kRosterFields> columns_{};
  QFrame* unknown_card_ = nullptr;
  QWidget* unknown_ = nullptr;  // a row for each column that was not understood
  std::set<std::size_t> not_needed_;
  QLabel* summary_ = nullptr;
  QListWidget* faults_ = nullptr;
  QPushButton* next_ = nullptr;
  std::string bytes_;
  std::optional<Roster> roster_;
};

}  // namespace nearpoint
