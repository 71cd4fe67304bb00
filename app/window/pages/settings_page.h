// Language, size of the text, sound, and where things are kept.
#pragma once

#include "app/window/page.h"

namespace nearpoint {

class SettingsPage : public Page {
  Q_OBJECT

 public:
  explicit SettingsPage(AppContext& context, QWidget* parent = nullptr);

 private:
  void MakeChoices();
  void Keep(const QString& key, const QString& value);
};

}  // namespace nearpoint
