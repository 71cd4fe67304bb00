// A length in millimetres that is typed: with a point or a comma, whatever the language.
#pragma once

#include <QDoubleSpinBox>

namespace nearpoint {

class LengthBox : public QDoubleSpinBox {
  Q_OBJECT

 public:
  explicit LengthBox(QWidget* parent = nullptr);

  [[nodiscard]] QValidator::State validate(QString& text, int& position) const override;
};

}  // namespace nearpoint
