// Small parts of the clinic's pages.
#pragma once

#include <QPushButton>

#include "app/window/look.h"

namespace nearpoint::clinic_parts {

// An outlined button that Return presses.
[[nodiscard]] inline QPushButton* Button(const QString& text, const char* name) {
  auto* button = new QPushButton(text);
  button->setObjectName(name);
  button->setFont(look::Body());
  button->setAutoDefault(true);
  button->setProperty("role", "way_out");
  return button;
}

}  // namespace nearpoint::clinic_parts
