// A new event: its name, its day, its rule, and what that rule will bring.
#pragma once

#include "app/event/rule.h"
#include "app/window/event/at_event.h"
#include "app/window/page.h"

class QComboBox;
class QFormLayout;
class QLabel;
class QLineEdit;

namespace nearpoint {

class EventSetUpPage : public Page {
  Q_OBJECT

 public:
  explicit EventSetUpPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] QString Who() const override { return WhereAtEvent(); }
  [[nodiscard]] PageId WayOut() const override { return PageId::kEvent; }

 private:
  QComboBox* AddChoice(QFormLayout* form, const char* name, const QString& title);
  [[nodiscard]] EventRule Rule() const;
  void ShowYield();
  void Begin();

  QLineEdit* name_ = nullptr;
  QLineEdit* day_ = nullptr;
  QComboBox* norm_ = nullptr;
  QComboBox* trials_ = nullptr;
  QComboBox* refer_ = nullptr;
  QComboBox* repeat_ = nullptr;
  QComboBox* plane_ = nullptr;
  QComboBox* equipment_ = nullptr;
  QLabel* yield_ = nullptr;
  QLabel* trouble_ = nullptr;
};

}  // namespace nearpoint
