#include "app/clinic_store/research_export.h"

#include <sodium.h>

#include <QSqlQuery>
#include <array>

#include "app/clinic/reviewed_session.h"
#include "app/exchange/keys.h"

namespace nearpoint {
namespace {

constexpr const char* kKey = "research_key";
using Key = std::array<std::uint8_t, 32>;

Result<Key> KeyOf(ClinicStore& store) {
  Key key{};
  const std::string kept = store.Setting(kKey).toStdString();
  if (FromBase64(kept, key.data(), key.size())) return key;
  randombytes_buf(key.data(), key.size());
  const auto set = store.SetSetting(kKey, QString::fromStdString(ToBase64(key.data(), key.size())));
  if (!set) return tl::unexpected(set.error());
  return key;
}

std::string PseudonymOf(const Key& key, RowId patient) {
  const std::string row = std::to_string(patient);
  std::array<std::uint8_t, 16> hash{};
  crypto_generichash(hash.data(), hash.size(), reinterpret_cast<const unsigned char*>(row.data()),
                     row.size(), key.data(), key.size());
  return "P" + ToBase64(hash.data(), 9);
}

// The lines without the header, where there is one already.
void Append(std::string& table, const std::string& more) {
  table += table.empty() ? more : more.substr(more.find('\n') + 1);
}

Result<std::vector<StoredSession>> SessionsOf(const ClinicStore& store, RowId patient) {
  const auto measurements = store.Measurements(patient);
  if (!measurements) return tl::unexpected(measurements.error());
  const auto limit = store.Limit(patient);
  if (!limit) return tl::unexpected(limit.error());
  std::vector<StoredSession> sessions;
  for (const KeptMeasurement& measurement : *measurements) {
    const auto file = store.FindMeasurement(measurement.id);
    if (!file) return tl::unexpected(file.error());
    auto session = ParseAsReviewed(file->text, file->review, measurement.name.toStdString());
    if (!session) return tl::unexpected(session.error());
    if (session->source.starts_with("simulated patient")) continue;
    sessions.push_back(HeldAgainst(*std::move(session), *limit));
  }
  return sessions;
}

}  // namespace

Result<ResearchTables> ExportForResearch(ClinicStore& store, const QString& by) {
  const auto key = KeyOf(store);
  if (!key) return tl::unexpected(key.error());
  std::vector<RowId> patients;
  {
    auto query = store.database().Run("SELECT id FROM patient ORDER BY id");
    if (!query) return tl::unexpected(query.error());
    while (query->next()) patients.push_back(query->value(0).toLongLong());
  }
  ResearchTables all;
  for (const RowId patient : patients) {
    const auto sessions = SessionsOf(store, patient);
    if (!sessions) return tl::unexpected(sessions.error());
    if (sessions->empty()) continue;
    const auto tables = ResearchCsv(*sessions, PseudonymOf(*key, patient));
    if (!tables) return tl::unexpected(tables.error());
    Append(all.sessions, tables->sessions);
    Append(all.trials, tables->trials);
    all.dictionary = tables->dictionary;
  }
  if (all.sessions.empty()) {
    return Fail(ErrorCode::kInsufficient, "Nothing was measured yet that could be exported.");
  }
  const auto logged =
      store.database().InTransaction([&] { return store.Log(by, "exported for research", 0, ""); });
  if (!logged) return tl::unexpected(logged.error());
  return all;
}

}  // namespace nearpoint
