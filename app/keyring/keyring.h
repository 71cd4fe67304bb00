// Secrets of this user, where the system keeps them (Secret Service or KWallet): never in a file of
// this program.
#pragma once

#include <QByteArray>
#include <QObject>
#include <QString>
#include <functional>
#include <memory>
#include <optional>

#include "vision/core/result.h"

namespace nearpoint {

class Keyring {
 public:
  Keyring() = default;
  virtual ~Keyring() = default;
  Keyring(const Keyring&) = delete;
  Keyring& operator=(const Keyring&) = delete;

  // Each answers later, from the event loop, and not at all once `who` is gone; the keyring may ask
  // the person for its password in between. kUnavailable: none is running, or it stays locked.
  using Found = std::function<void(Result<std::optional<QByteArray>>)>;
  using Finished = std::function<void(Result<void>)>;
  // Absent: nothing is kept under that name.
  virtual void Read(const QString& name, QObject* who, Found found) = 0;
  virtual void Write(const QString& name, const QByteArray& secret, QObject* who,
                     Finished finished) = 0;
  // Also where nothing is kept under that name.
  virtual void Remove(const QString& name, QObject* who, Finished finished) = 0;
};

// That of this user's session. Without one every call answers kUnavailable; nothing is written
// anywhere else instead.
[[nodiscard]] std::unique_ptr<Keyring> SystemKeyring();

}  // namespace nearpoint
