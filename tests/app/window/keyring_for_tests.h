#pragma once

#include <QTimer>
#include <map>
#include <optional>

#include "app/keyring/keyring.h"

namespace nearpoint {

// A keyring in memory, which answers later as that of a system does.
class KeyringForTests : public Keyring {
 public:
  void Read(const QString& name, QObject* who, Found found) override {
    QTimer::singleShot(0, who, [this, name, found] {
      found(secrets.contains(name) ? std::optional(secrets[name]) : std::nullopt);
    });
  }
  void Write(const QString& name, const QByteArray& secret, QObject* who,
             Finished finished) override {
    secrets[name] = secret;
    QTimer::singleShot(0, who, [finished] { finished({}); });
  }
  void Remove(const QString& name, QObject* who, Finished finished) override {
    secrets.erase(name);
    QTimer::singleShot(0, who, [finished] { finished({}); });
  }
  std::map<QString, QByteArray> secrets;
};

}  // namespace nearpoint
