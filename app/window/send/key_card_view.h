// One's own card: made on request, shown as text and QR code with its fingerprint, copied.
#pragma once

#include <QWidget>

#include "app/exchange/key_store.h"

class QVBoxLayout;

namespace nearpoint {

class KeyCardView : public QWidget {
  Q_OBJECT

 public:
  // what: whose name is asked for when there are no keys yet; suggested: put there.
  KeyCardView(const KeyStore& keys, const QString& what, const QString& suggested = QString(),
              QWidget* parent = nullptr);

 signals:
  void Made();

 private:
  void Show();
  void Make(const QString& name);

  const KeyStore& keys_;
  QString what_, suggested_;
  QVBoxLayout* column_;
};

}  // namespace nearpoint
