#include "app/window/answers.h"

#include <QGridLayout>
#include <QPushButton>

#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {

Answers::Answers(const QString& question, const std::vector<Answer>& answers, QWidget* parent)
    : QWidget(parent) {
  auto* grid = new QGridLayout(this);
  grid->setContentsMargins(0, 0, 0, 0);
  grid->setSpacing(look::Art(12));
  constexpr int kColumns = 2;
  int at = 0;
  for (const Answer& answer : answers) {
    QPushButton* const button = parts::Answer(answer.text);
    button->setObjectName(answer.name);
    button->setAccessibleDescription(question);
    connect(button, &QPushButton::clicked, this, [this, name = answer.name] { emit Given(name); });
    grid->addWidget(button, at / kColumns, at % kColumns);
    buttons_.push_back(button);
    ++at;
  }
  for (int column = 0; column < kColumns; ++column) grid->setColumnStretch(column, 1);
  for (int row = 0; row * kColumns < at; ++row) grid->setRowStretch(row, 1);
}

}  // namespace nearpoint
