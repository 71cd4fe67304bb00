// The token of a record server: typed, found in the keyring of the system, and kept there after it
// was accepted; out of it when the server takes it no more. In no file.
#pragma once

#include <QWidget>

class QLabel;
class QLineEdit;

namespace nearpoint {

class Keyring;

// Under which the keyring keeps the token of that server.
[[nodiscard]] QString TokenName(const QString& server);

class TokenField : public QWidget {
  Q_OBJECT

 public:
  // keyring: may be absent. typed: what was typed since the window was opened.
  TokenField(Keyring* keyring, const QString& server, const QByteArray& typed,
             QWidget* parent = nullptr);

  [[nodiscard]] QByteArray token() const;
  // The server took it: into the keyring, where there is one.
  void Keep();
  // The server did not take it: out of the keyring, if it was there.
  void Drop();

 private:
  void Say(bool keyring_runs);

  Keyring* keyring_;
  QString name_;  // in the keyring
  QByteArray kept_;
  QLineEdit* line_;
  QLabel* where_;
};

}  // namespace nearpoint
