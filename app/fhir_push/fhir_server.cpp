#include "app/fhir_push/fhir_server.h"

#include <QHostAddress>

namespace nearpoint {
namespace {

bool IsThisComputer(const QString& host) {
  return host == "localhost" || QHostAddress(host).isLoopback();
}

}  // namespace

QUrl Below(const QUrl& base, const std::string& rest) {
  QString text = base.toString();
  while (text.endsWith('/')) text.chop(1);
  return QUrl(text + '/' + QString::fromStdString(rest));
}

Result<void> CheckServer(const FhirServer& server) {
  const QUrl& base = server.base;
  const std::string text = base.toString(QUrl::RemoveUserInfo).toStdString();
  if (!base.isValid() || base.host().isEmpty()) {
    return tl::unexpected(
        Error{ErrorCode::kBadValue, "\"" + text + "\" is no address of a server."});
  }
  if (base.scheme() != "https" && !(base.scheme() == "http" && IsThisComputer(base.host()))) {
    return tl::unexpected(Error{
        ErrorCode::kBadValue,
        text + ": expected an address that begins with https, since it carries health data."});
  }
  if (!base.userInfo().isEmpty()) {
    return tl::unexpected(Error{ErrorCode::kBadValue,
                                text + ": a name or password does not belong into an address."});
  }
  if (server.token.contains('\n') || server.token.contains('\r')) {
    return tl::unexpected(Error{ErrorCode::kBadValue, "The token holds a line break."});
  }
  return {};
}

}  // namespace nearpoint
