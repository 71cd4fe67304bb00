// When not to measure, and when to stop.
#pragma once

#include <QStringList>

#include "app/window/page.h"

class QFrame;

namespace nearpoint {

class CautionsPage : public Page {
  Q_OBJECT

 public:
  explicit CautionsPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override;

 private:
  QFrame* AddList(const QString& title, const QStringList& lines, const QString& mark);
};

}  // namespace nearpoint
