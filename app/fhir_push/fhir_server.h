// Which server, and how patient one is with it.
#pragma once

#include <QByteArray>
#include <QUrl>
#include <string>

#include "vision/core/result.h"

namespace nearpoint {

struct FhirServer {
  QUrl base;         // https://.../fhir; http only to this computer itself
  QByteArray token;  // of the Authorization header (Bearer); empty: none
};

struct PushPatience {
  int tries = 5;
  int first_wait_ms =
      1000;                // doubled each time, at most a minute; a server's Retry-After goes first
  int timeout_ms = 30000;  // for one try
};

// kBadValue: not https, except to this computer; a token with a line break; user or password in the
// address.
[[nodiscard]] Result<void> CheckServer(const FhirServer& server);

// "base/" and what stands behind it, however the base was written.
[[nodiscard]] QUrl Below(const QUrl& base, const std::string& rest);

}  // namespace nearpoint
