#include "app/window/parts.h"

#include <QAbstractItemView>
#include <QComboBox>
#include <QFrame>
#include <QHBoxLayout>
#include <QPainter>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/look.h"

namespace nearpoint::parts {
namespace {

// A button whose height follows wrapped text: QPushButton itself knows one line only.
class ChoiceButton : public QPushButton {
 public:
  ChoiceButton(const QString& title, const QString& line)
      : ChoiceButton(title, line, look::Px(14), look::Large()) {}
  ChoiceButton(const QString& title, const QString& line, int margin, const QFont& font) {
    setProperty("role", "choice");
    setAccessibleName(title);
    setAccessibleDescription(line);
    setAutoDefault(true);
    auto* layout = new QVBoxLayout(this);
    const int side = margin * 10 / 7;
    layout->setContentsMargins(side, margin, side, margin);
    layout->setSpacing(look::Px(4));
    auto* head = Text(title);
    head->setFont(font);
    layout->addWidget(head);
    // A choice that was made carries a mark, not only another ground.
    connect(this, &QPushButton::toggled, head, [head, title](bool chosen) {
      head->setText(chosen ? QStringLiteral("✓ ") + title : title);
    });
    if (!line.isEmpty()) layout->addWidget(Text(line, "quiet"));
    for (QLabel* label : findChildren<QLabel*>()) {
      label->setAttribute(Qt::WA_TransparentForMouseEvents);
    }
    QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Minimum);
    policy.setHeightForWidth(true);
    setSizePolicy(policy);
  }
  [[nodiscard]] QSize sizeHint() const override { return layout()->sizeHint(); }
  [[nodiscard]] QSize minimumSizeHint() const override { return layout()->minimumSize(); }
  [[nodiscard]] bool hasHeightForWidth() const override { return true; }
  [[nodiscard]] int heightForWidth(int width) const override {
    return layout()->heightForWidth(width);
  }
};

class ArrowBox : public QComboBox {
 public:
  using QComboBox::QComboBox;

  // Wide where there is room; in a narrow page a long choice is cut instead of the page.
  [[nodiscard]] QSize minimumSizeHint() const override {
    const QSize wanted = sizeHint();
    return {std::min(wanted.width(), look::Px(180)), wanted.height()};
  }

  // The list that opens is a window of its own, and is to be heard by the same name.
  void showPopup() override {
    view()->setAccessibleName(accessibleName());
    QComboBox::showPopup();
  }

 protected:
  void paintEvent(QPaintEvent* event) override {
    QComboBox::paintEvent(event);
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(look::kDeep, look::Px(2), Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
    const QPointF tip(width() - look::Px(20), height() / 2.0 + look::Px(3));
    const double side = look::Px(6);
    painter.drawPolyline(QPolygonF({tip + QPointF(-side, -side), tip, tip + QPointF(side, -side)}));
  }
};

}  // namespace

QBoxLayout* NewRow() {
  auto* row = new QBoxLayout(look::IsLarge() ? QBoxLayout::TopToBottom : QBoxLayout::LeftToRight);
  row->setSpacing(look::Px(14));
  return row;
}

QComboBox* NewComboBox(QWidget* parent) {
  auto* box = new ArrowBox(parent);
  box->setFont(look::Body());
  box->setSizeAdjustPolicy(QComboBox::AdjustToContents);
  return box;
}

QLabel* Text(const QString& text, const char* role, QWidget* parent) {
  auto* label = new QLabel(text, parent);
  label->setWordWrap(true);
  label->setFont(look::Body());
  label->setTextFormat(Qt::PlainText);
  if (*role != '\0') label->setProperty("role", role);
  return label;
}

QLabel* BigText(const QString& text, const QFont& font, const char* role) {
  QLabel* const label = Text(text, role);
  label->setFont(font);
  return label;
}

QWidget* Point(const QString& text, const QString& mark) {
  auto* line = new QWidget();
  auto* row = new QHBoxLayout(line);
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(look::Px(10));
  auto* sign = new QLabel(mark, line);
  sign->setFont(look::Body());
  sign->setAlignment(Qt::AlignTop | Qt::AlignHCenter);
  sign->setFixedWidth(look::Px(22));
  row->addWidget(sign);
  row->addWidget(Text(text, "", line), 1);
  return line;
}

QFrame* Card(const QString& title) {
  auto* card = new QFrame();
  card->setProperty("role", "card");
  auto* layout = new QVBoxLayout(card);
  layout->setContentsMargins(look::Px(20), look::Px(16), look::Px(20), look::Px(16));
  layout->setSpacing(look::Px(10));
  if (!title.isEmpty()) {
    auto* head = Text(title);
    QFont font = look::Large();
    font.setWeight(QFont::DemiBold);
    head->setFont(font);
    layout->addWidget(head);
  }
  return card;
}

QVBoxLayout* LayoutOf(QFrame* card) { return static_cast<QVBoxLayout*>(card->layout()); }

QPushButton* Choice(const QString& title, const QString& line) {
  return new ChoiceButton(title, line);
}

QPushButton* Answer(const QString& text) {
  // All answers to one question must fit into a small window together.
  auto* button = new ChoiceButton(text, QString(), look::Art(14),
                                  look::IsLarge() ? look::Body() : look::Large());
  button->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Preferred);
  return button;
}

}  // namespace nearpoint::parts
