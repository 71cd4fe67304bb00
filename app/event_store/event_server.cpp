#include "app/event_store/event_server.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>

#include "app/records/atomic_file.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr std::string_view kSchema = "nearpoint/event-server/1";
constexpr qint64 kLargestFile = 1 << 20;

QString Beside(const EventStore& store, const char* name) {
  return QFileInfo(store.database().place()).absoluteDir().filePath(name);
}
QString CertificateFile(const EventStore& store) { return Beside(store, "event-server.pem"); }
QString PasswordFile(const EventStore& store) { return Beside(store, "event-server.pgpass"); }

QString IfThere(const QString& file) { return QFile::exists(file) ? file : QString(); }

Result<void> Keep(const QString& file, const std::string& text) {
  return WriteFileAtomically(file.toStdString(), text, Readers::kOwner);
}

// In a line of libpq's password file a colon and a backslash are escaped.
std::string PasswordLine(const std::string& password) {
  std::string line = "*:*:*:*:";
  for (const char c : password) {
    if (c == ':' || c == '\\') line += '\\';
    line += c;
  }
  return line + '\n';
}

Result<std::string> ReadCertificate(const std::string& text, const std::string& where) {
  if (text.find("-----BEGIN CERTIFICATE-----") != std::string::npos) return text;
  return Fail(ErrorCode::kBadValue,
              where + ": there is no certificate in it; expected one in PEM form.");
}

Result<std::string> ReadSmallFile(const QString& file) {
  if (QFileInfo(file).size() > kLargestFile) {
    return Fail(ErrorCode::kBadValue, file.toStdString() + ": this file is too large.");
  }
  return ReadTextFile(file.toStdString());
}

}  // namespace

ServerAccess AccessOf(const EventStore& store) {
  return {.address = store.Setting("server"),
          .certificate_file = IfThere(CertificateFile(store)),
          .password_file = IfThere(PasswordFile(store))};
}

Result<void> JoinServer(EventStore& store, const QString& file) {
  const std::string where = file.toStdString();
  const auto text = ReadSmallFile(file);
  if (!text) return tl::unexpected(text.error());
  const auto json = ParseJson(*text, where);
  if (!json) return tl::unexpected(json.error());
  JsonFields fields(*json, where);
  const std::string schema = fields.Text("schema", std::string(kSchema));
  if (fields.ok() && schema != kSchema) fields.Refuse("schema", std::string(kSchema));
  const std::string address = fields.Text("address", "postgresql://USER@HOST:PORT/NAME");
  const std::string password = fields.Text("password", "a text");
  const std::string certificate = fields.Text("certificate", "a certificate in PEM form");
  if (!fields.ok()) return tl::unexpected(*fields.error());
  if (password.find('\n') != std::string::npos) {
    return Fail(ErrorCode::kBadValue, where + ": the password has a line break in it.");
  }
  if (auto fine = CheckAddress(QString::fromStdString(address)); !fine) return fine;
  if (auto fine = ReadCertificate(certificate, where); !fine) return tl::unexpected(fine.error());
  if (auto kept = Keep(CertificateFile(store), certificate); !kept) return kept;
  if (auto kept = Keep(PasswordFile(store), PasswordLine(password)); !kept) return kept;
  return store.SetSetting("server", QString::fromStdString(address));
}

Result<void> SetServer(EventStore& store, const QString& address, const QString& certificate_file) {
  std::string certificate;
  if (!address.isEmpty()) {
    if (auto fine = CheckAddress(address); !fine) return fine;
  }
  if (!certificate_file.isEmpty()) {
    const auto text = ReadSmallFile(certificate_file);
    if (!text) return tl::unexpected(text.error());
    const auto read = ReadCertificate(*text, certificate_file.toStdString());
    if (!read) return tl::unexpected(read.error());
    certificate = *read;
  }
  for (const QString& file : {CertificateFile(store), PasswordFile(store)}) {
    if (QFile::exists(file) && !QFile::remove(file)) {
      return Fail(ErrorCode::kNotWritable, file.toStdString() + ": this file cannot be removed.");
    }
  }
  if (!certificate.empty()) {
    if (auto kept = Keep(CertificateFile(store), certificate); !kept) return kept;
  }
  return store.SetSetting("server", address);
}

}  // namespace nearpoint
