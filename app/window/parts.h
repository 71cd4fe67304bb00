// Small parts that many pages are made of.
#pragma once

#include <QLabel>
#include <QString>

class QBoxLayout;
class QComboBox;
class QFrame;
class QFont;
class QPushButton;
class QVBoxLayout;
class QWidget;

namespace nearpoint::parts {

// Wrapped text. role: "", "quiet", "warm", "stop", "soft": see look.cpp.
[[nodiscard]] QLabel* Text(const QString& text, const char* role = "", QWidget* parent = nullptr);
[[nodiscard]] QLabel* BigText(const QString& text, const QFont& font, const char* role = "");
// One line of a list, with a small mark before it.
[[nodiscard]] QWidget* Point(const QString& text, const QString& mark);
// A white card with a title; its layout is the frame's.
[[nodiscard]] QFrame* Card(const QString& title);
[[nodiscard]] QVBoxLayout* LayoutOf(QFrame* card);
// A large button with a title and a line of explanation, for choosing one of a few things.
[[nodiscard]] QPushButton* Choice(const QString& title, const QString& line);
// One of a few equal answers: a text that wraps, in a button as high as it needs.
[[nodiscard]] QPushButton* Answer(const QString& text);

// Beside each other; below each other where the text is large.
[[nodiscard]] QBoxLayout* NewRow();
// A box to choose from that shows its arrow in our colours.
[[nodiscard]] QComboBox* NewComboBox(QWidget* parent = nullptr);

}  // namespace nearpoint::parts
