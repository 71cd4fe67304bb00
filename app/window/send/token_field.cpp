#include "app/window/send/token_field.h"

#include <QLabel>
#include <QLineEdit>
#include <QVBoxLayout>

#include "app/keyring/keyring.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {

QString TokenName(const QString& server) { return "token of " + server; }

TokenField::TokenField(Keyring* keyring, const QString& server, const QByteArray& typed,
                       QWidget* parent)
    : QWidget(parent), keyring_(keyring), name_(TokenName(server)) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(look::Px(4));
  line_ = new QLineEdit(QString::fromUtf8(typed));
  line_->setObjectName("token");
  line_->setFont(look::Body());
  line_->setEchoMode(QLineEdit::Password);
  line_->setPlaceholderText(tr("token of the server"));
  line_->setAccessibleName(line_->placeholderText());
  column->addWidget(line_);
  where_ = parts::Text(QString(), "quiet");
  where_->setObjectName("token_place");
  column->addWidget(where_);
  Say(false);
  if (keyring_ == nullptr) return;
  keyring_->Read(name_, this, [this](const Result<std::optional<QByteArray>>& found) {
    Say(found.has_value());
    if (!found || !*found) return;
    kept_ = **found;
    // What somebody has begun to type stays.
    if (line_->text().isEmpty()) line_->setText(QString::fromUtf8(kept_));
  });
}

QByteArray TokenField::token() const { return line_->text().trimmed().toUtf8(); }

void TokenField::Keep() {
  const QByteArray accepted = token();
  if (keyring_ == nullptr || accepted.isEmpty() || accepted == kept_) return;
  keyring_->Write(name_, accepted, this, [this, accepted](const Result<void>& done) {
    Say(done.has_value());
    if (done) kept_ = accepted;
  });
}

void TokenField::Drop() {
  if (keyring_ == nullptr || kept_.isEmpty()) return;
  kept_.clear();
  keyring_->Remove(name_, this, [this](const Result<void>& done) { Say(done.has_value()); });
}

void TokenField::Say(bool keyring_runs) {
  where_->setText(
      keyring_runs
          ? tr("Kept in the keyring of this computer once the server has accepted it.")
          : tr("No keyring of the system can be used here: the token is forgotten when the window "
               "closes, and is in no file."));
}

}  // namespace nearpoint
