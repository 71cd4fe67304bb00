// Small parts of the clinic's pages.
#pragma once

#include <QFormLayout>
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

// Labels beside their fields; above them where the text is large.
[[nodiscard]] inline QFormLayout::RowWrapPolicy RowWrap() {
  constexpr double kLarge = 1.4;
  return look::Scale() > kLarge ? QFormLayout::WrapAllRows : QFormLayout::WrapLongRows;
}

}  // namespace nearpoint::clinic_parts
