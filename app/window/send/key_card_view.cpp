#include "app/window/send/key_card_view.h"

#include <QClipboard>
#include <QGuiApplication>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/read_qr.h"
#include "app/window/words.h"

namespace nearpoint {

KeyCardView::KeyCardView(const KeyStore& keys, const QString& what, const QString& suggested,
                         QWidget* parent)
    : QWidget(parent), keys_(keys), what_(what), suggested_(suggested) {
  column_ = new QVBoxLayout(this);
  column_->setContentsMargins(0, 0, 0, 0);
  column_->setSpacing(look::Px(8));
  Show();
}

void KeyCardView::Show() {
  while (QLayoutItem* item = column_->takeAt(0)) {
    if (QWidget* const gone = item->widget()) {
      gone->hide();  // at once: it goes when the events do
      gone->deleteLater();
    }
    delete item;
  }
  const auto own = keys_.Load();
  if (own) {
    const QString text = QString::fromStdString(ToText(own->identity.card()));
    auto* line = new QLineEdit(text);
    line->setObjectName("own_card");
    line->setReadOnly(true);
    line->setFont(look::Body());
    line->setCursorPosition(0);
    line->setAccessibleName(tr("Card as text"));
    auto* print = parts::Text(
        tr("Fingerprint: %1").arg(QString::fromStdString(Fingerprint(own->identity.card()))));
    print->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    auto* copy = new QPushButton(tr("Copy the card"));
    copy->setObjectName("copy_card");
    copy->setFont(look::Body());
    copy->setProperty("role", "way_out");
    connect(copy, &QPushButton::clicked, this,
            [text] { QGuiApplication::clipboard()->setText(text); });
    column_->addWidget(parts::Text(QString::fromStdString(own->name)));
    column_->addWidget(line);
    column_->addWidget(print);
    auto* code = new QLabel();
    code->setObjectName("own_qr");
    code->setAccessibleName(tr("Card as QR code"));
    code->setPixmap(QPixmap::fromImage(DrawQr(text, look::Art(220))));
    column_->addWidget(code);
    column_->addWidget(
        parts::Text(tr("The same card as a QR code, for the camera of the other."), "quiet"));
    column_->addWidget(copy, 0, Qt::AlignLeft);
    return;
  }
  if (own.error().code != ErrorCode::kNotFound) {
    column_->addWidget(parts::Text(words::ForError(own.error()), "stop"));
    return;
  }
  auto* name = new QLineEdit(suggested_);
  name->setObjectName("card_name");
  name->setFont(look::Body());
  name->setMaxLength(80);
  name->setPlaceholderText(what_);
  name->setAccessibleName(what_);
  auto* make = new QPushButton(tr("Make a card"));
  make->setObjectName("make_card");
  make->setFont(look::Body());
  make->setProperty("role", "way_out");
  make->setAutoDefault(true);
  connect(make, &QPushButton::clicked, this, [this, name] { Make(name->text().trimmed()); });
  column_->addWidget(name);
  column_->addWidget(make, 0, Qt::AlignLeft);
  column_->addWidget(
      parts::Text(tr("The secret half stays on this computer, readable by this user alone and not "
                     "encrypted."),
                  "quiet"));
}

void KeyCardView::Make(const QString& name) {
  if (name.isEmpty()) {
    column_->addWidget(parts::Text(tr("Write a name first."), "warm"));
    return;
  }
  if (const auto made = keys_.Create(name.toStdString()); !made) {
    column_->addWidget(parts::Text(words::ForError(made.error()), "stop"));
    return;
  }
  Show();
  emit Made();
}

}  // namespace nearpoint
