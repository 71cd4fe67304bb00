// A few answers to one question: equal buttons, none of them chosen beforehand.
#pragma once

#include <QString>
#include <QWidget>
#include <vector>

class QPushButton;

namespace nearpoint {

class Answers : public QWidget {
  Q_OBJECT

 public:
  struct Answer {
    QString name;  // of the button, and what Given says
    QString text;
  };
  // Two beside each other, further ones below.
  Answers(const QString& question, const std::vector<Answer>& answers, QWidget* parent = nullptr);
  // In the order in which they stand.
  [[nodiscard]] const std::vector<QPushButton*>& buttons() const { return buttons_; }

 signals:
  void Given(const QString& name);

 private:
  std::vector<QPushButton*> buttons_;
};

}  // namespace nearpoint
