#include "app/window/length_box.h"

#include "app/window/look.h"

namespace nearpoint {

LengthBox::LengthBox(QWidget* parent) : QDoubleSpinBox(parent) {
  setDecimals(1);
  setSuffix(QStringLiteral(" mm"));
  setButtonSymbols(QAbstractSpinBox::NoButtons);  // typed, or by the arrow keys
  setFont(look::Body());
}

QValidator::State LengthBox::validate(QString& text, int& position) const {
  // Nobody types groups of thousands here.
  const QString point = locale().decimalPoint();
  text.replace(point == "," ? "." : ",", point);
  return QDoubleSpinBox::validate(text, position);
}

}  // namespace nearpoint
