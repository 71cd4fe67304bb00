// A button of the second rank inside a page, with a frame so that it looks like one.
#pragma once

#include <QPushButton>

#include "app/window/look.h"

namespace nearpoint {

[[nodiscard]] inline QPushButton* SmallButton(const QString& text, const char* name) {
  auto* const button = new QPushButton(text);
  button->setObjectName(name);
  button->setFont(look::Body());
  button->setProperty("role", "way_out");
  button->setAutoDefault(true);
  return button;
}

}  // namespace nearpoint
