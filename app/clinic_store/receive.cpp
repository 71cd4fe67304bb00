#include "app/clinic_store/receive.h"

#include <QSqlQuery>
#include <algorithm>
#include <map>

#include "app/clinic_store/rows.h"
#include "app/exchange/session_items.h"
#include "app/records/moment.h"
#include "app/records/session_json.h"
#include "app/review/audit_log.h"

namespace nearpoint {
namespace {

QString IdText(const Package& package) {
  return rows::ToQt(ToBase64(package.id.data(), package.id.size()));
}

// Noon of today on the local calendar, for what does not say when it was measured.
double TodayNoon(const ClinicStore& store) {
  const QDate today = store.Now().toLocalTime().date();
  constexpr double kNoon = 0.5;
  return static_cast<double>(QDate(1970, 1, 1).daysTo(today)) + kNoon;
}

Result<std::optional<RowId>> PatientOf(const ClinicStore& store, const QString& card,
                                       const QString& said) {
  auto query =
      store.database().Run("SELECT patient FROM device WHERE card = ? AND said = ?", {card, said});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) return std::optional<RowId>();
  return std::optional<RowId>(query->value(0).toLongLong());
}

Result<bool> IsThere(const ClinicStore& store, const QString& statement,
                     std::initializer_list<QVariant> values) {
  auto query = store.database().Run(statement, values);
  if (!query) return tl::unexpected(query.error());
  return query->next();
}

Result<std::optional<RowId>> MeasurementOf(const ClinicStore& store, RowId patient,
                                           const std::string& hash) {
  auto query = store.database().Run("SELECT id FROM measurement WHERE patient = ? AND hash = ?",
                                    {patient, rows::ToQt(hash)});
  if (!query) return tl::unexpected(query.error());
  if (!query->next()) return std::optional<RowId>();
  return std::optional<RowId>(query->value(0).toLongLong());
}

// One package into the tables of one patient, within a transaction.
class Intake {
 public:
  Intake(ClinicStore& store, RowId patient, QString card, Receipt& receipt)
      : store_(store), patient_(patient), card_(std::move(card)), receipt_(receipt) {}

  Result<void> Take(const Package& package) {
    const QString id = IdText(package);
    ByStem fresh;
    for (const PackageItem& item : package.items) {
      if (item.kind != ItemKind::kSession) continue;
      const auto added = TakeSession(item, id);
      if (!added) return tl::unexpected(added.error());
      if (*added) fresh[StemOf(item.name)] = **added;
    }
    for (const PackageItem& item : package.items) {
      if (auto done = TakeOther(item, fresh); !done) return done;
    }
    return store_.RefreshPatient(patient_);
  }

 private:
  using ByStem = std::map<std::string, RowId>;

  // Absent where this very content is there already, or is no session.
  Result<std::optional<RowId>> TakeSession(const PackageItem& item, const QString& package) {
    const std::string hash = HashOf(item.content);
    const auto known = MeasurementOf(store_, patient_, hash);
    if (!known) return tl::unexpected(known.error());
    if (*known) {
      ++receipt_.known_measurements;
      known_[StemOf(item.name)] = **known;
      return std::optional<RowId>();
    }
    const auto digest = DigestOf(item.content, AuditLog(hash), TodayNoon(store_), item.name);
    if (!digest) {
      receipt_.notes.push_back(digest.error().message + " It was left out.");
      return std::optional<RowId>();
    }
    if (!digest->started_at.empty()) {
      const auto same = IsThere(store_, "SELECT id FROM measurement WHERE patient = ? AND day = ?",
                                {patient_, digest->day});
      if (!same) return tl::unexpected(same.error());
      if (*same) {
        receipt_.notes.push_back(item.name + ": another measurement begins at the same moment, " +
                                 digest->started_at +
                                 ", with other content; both are kept, look at them.");
      }
    }
    const auto added = store_.database().Run(
        "INSERT INTO measurement (patient, package, name, hash, day, received_at, text_z, digest) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        {patient_, package, rows::ToQt(item.name), rows::ToQt(hash), digest->day, store_.NowText(),
         Shrink(item.content), rows::ToQt(SerializeDigest(*digest))});
    if (!added) return tl::unexpected(added.error());
    ++receipt_.new_measurements;
    return std::optional<RowId>(added->lastInsertId().toLongLong());
  }

  // Pictures may follow a measurement that is there already: somebody agreed to them later. What is
  // there is never replaced.
  Result<void> TakePicture(const PackageItem& item, const ByStem& fresh) {
    const auto name = ParsePictureName(item.name);
    std::optional<RowId> measurement;
    for (const ByStem* stems : {&fresh, static_cast<const ByStem*>(&known_)}) {
      const auto found = name ? stems->find(name->stem) : stems->end();
      if (found != stems->end()) measurement = found->second;
    }
    if (!measurement || !IsEyePicture(item.content)) {
      receipt_.notes.push_back(
          item.name +
          ": is no picture of the eyes of a measurement beside it. It was left "
          "out.");
      return {};
    }
    return rows::Done(store_.database().Run(
        "INSERT OR IGNORE INTO eye_picture (measurement, trial, moment, jpeg) VALUES (?, ?, ?, ?)",
        {*measurement, name->trial, rows::ToQt(ToText(name->moment)),
         QByteArray::fromStdString(item.content)}));
  }

  Result<void> TakeOther(const PackageItem& item, const ByStem& by_stem) {
    switch (item.kind) {
      case ItemKind::kSession:
        return {};
      case ItemKind::kTrack: {
        const auto name = ParseTrackName(item.name);
        const auto session = name ? by_stem.find(name->first) : by_stem.end();
        if (session == by_stem.end()) return {};  // of a measurement that is there already
        return rows::Done(store_.database().Run(
            "INSERT OR REPLACE INTO track (measurement, trial, track_z) VALUES (?, ?, ?)",
            {session->second, name->second, Shrink(item.content)}));
      }
      case ItemKind::kExerciseDays:
        if (const auto days = ParseExerciseDays(item.content, item.name); !days) {
          receipt_.notes.push_back(days.error().message + " It was left out.");
          return {};
        }
        // The diary is sent whole each time; the newest takes the place of the one before.
        return rows::Done(store_.database().Run(
            "INSERT OR REPLACE INTO exercise_days (patient, card, received_at, text) "
            "VALUES (?, ?, ?, ?)",
            {patient_, card_, store_.NowText(), rows::ToQt(item.content)}));
      case ItemKind::kPicture:
        return TakePicture(item, by_stem);
      case ItemKind::kPlan:
      case ItemKind::kNote:
        receipt_.notes.push_back(item.name + ": this kind of file is not kept here.");
        return {};
    }
    return {};
  }

  ClinicStore& store_;
  RowId patient_;
  QString card_;
  Receipt& receipt_;
  ByStem known_;  // measurements of this package that were there before
};

Result<Package> WaitingContent(const QByteArray& content) {
  const QByteArray bytes = qUncompress(content);
  return UnpackBytes({reinterpret_cast<const std::uint8_t*>(bytes.constData()),
                      static_cast<std::size_t>(bytes.size())});
}

QByteArray ShrunkPackage(const Package& package) {
  const Bytes bytes = PackBytes(package);
  return qCompress(bytes.data(), static_cast<qsizetype>(bytes.size()));
}

Result<void> StoreOpened(ClinicStore& store, const OpenedSeal& opened, const QString& sealed_hash,
                         Receipt& receipt) {
  const QString id = IdText(opened.package);
  const QString card = rows::ToQt(ToText(opened.sender));
  const auto known = IsThere(store, "SELECT id FROM package WHERE id = ? AND card = ?", {id, card});
  if (!known) return tl::unexpected(known.error());
  if (*known) {
    receipt.outcome = Receipt::Outcome::kDuplicate;
    return {};
  }
  const auto patient = PatientOf(store, card, receipt.said);
  if (!patient) return tl::unexpected(patient.error());
  receipt.outcome = *patient ? Receipt::Outcome::kTaken : Receipt::Outcome::kWaiting;
  receipt.patient = patient->value_or(0);
  const QVariant owner = *patient ? QVariant(**patient) : QVariant(QMetaType::fromType<RowId>());
  const QVariant content = *patient ? QVariant(QMetaType::fromType<QByteArray>())
                                    : QVariant(ShrunkPackage(opened.package));
  const auto added = store.database().Run(
      "INSERT INTO package (id, card, said, made_at, received_at, sealed_hash, patient, content) "
      "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
      {id, card, rows::Stored(receipt.said), rows::ToQt(opened.package.made_at), store.NowText(),
       sealed_hash, owner, content});
  if (!added) return tl::unexpected(added.error());
  if (*patient) {
    if (auto taken = Intake(store, **patient, card, receipt).Take(opened.package); !taken) {
      return taken;
    }
  }
  return store.Log("", *patient ? "received" : "waiting", receipt.patient, sealed_hash);
}

}  // namespace

Result<Receipt> Receive(ClinicStore& store, ByteView file, const Identity& clinic) {
  const auto opened = Unseal(file, clinic);
  if (!opened) return tl::unexpected(opened.error());
  Receipt receipt;
  receipt.said = rows::ToQt(opened->package.from);
  receipt.fingerprint = Fingerprint(opened->sender);
  const QString hash = rows::ToQt(HashOf(TextOf(file)));
  const auto stored =
      store.database().InTransaction([&] { return StoreOpened(store, *opened, hash, receipt); });
  if (!stored) return tl::unexpected(stored.error());
  return receipt;
}

Result<std::vector<WaitingPackage>> Waiting(const ClinicStore& store) {
  auto query = store.database().Run(
      "SELECT id, card, said, made_at, received_at, content,"
      " EXISTS (SELECT 1 FROM device WHERE device.card = package.card) FROM package"
      " WHERE patient IS NULL AND content IS NOT NULL ORDER BY received_at, id");
  if (!query) return tl::unexpected(query.error());
  std::vector<WaitingPackage> waiting;
  while (query->next()) {
    WaitingPackage one;
    one.id = query->value(0).toString();
    one.card = query->value(1).toString();
    one.said = query->value(2).toString();
    one.made_at = query->value(3).toString();
    one.received_at = query->value(4).toString();
    one.card_is_known = query->value(6).toBool();
    const auto card = ParseCard(one.card.toStdString());
    const auto package = WaitingContent(query->value(5).toByteArray());
    if (!card || !package) {
      return Fail(ErrorCode::kBadValue, store.database().file().toStdString() +
                                            ": what waits here was changed from outside.");
    }
    one.fingerprint = Fingerprint(*card);
    one.inside = DescribePackage(*package);
    waiting.push_back(std::move(one));
  }
  return waiting;
}

Result<Receipt> MatchSender(ClinicStore& store, const QString& card, const QString& said,
                            RowId patient, const QString& by) {
  Receipt receipt;
  receipt.patient = patient;
  receipt.said = said;
  const auto done = store.database().InTransaction([&]() -> Result<void> {
    std::vector<std::pair<QString, Package>> packages;
    {
      auto query = store.database().Run(
          "SELECT id, content FROM package WHERE card = ? AND said = ? AND patient IS NULL"
          " AND content IS NOT NULL ORDER BY received_at, id",
          {card, said});
      if (!query) return tl::unexpected(query.error());
      while (query->next()) {
        auto package = WaitingContent(query->value(1).toByteArray());
        if (!package) return tl::unexpected(package.error());
        packages.emplace_back(query->value(0).toString(), *std::move(package));
      }
    }
    if (packages.empty())
      return Fail(ErrorCode::kNotFound, "Nothing waits of this sender any more.");
    const auto matched = store.database().Run(
        "INSERT INTO device (card, said, patient, matched_at) VALUES (?, ?, ?, ?)",
        {card, said, patient, store.NowText()});
    if (!matched) return tl::unexpected(matched.error());
    for (const auto& [id, package] : packages) {
      const auto owned = store.database().Run(
          "UPDATE package SET patient = ?, content = NULL WHERE id = ?", {patient, id});
      if (!owned) return tl::unexpected(owned.error());
      if (auto taken = Intake(store, patient, card, receipt).Take(package); !taken) return taken;
    }
    return store.Log(by, "matched", patient, rows::ToQt(HashOf(card.toStdString())));
  });
  if (!done) return tl::unexpected(done.error());
  return receipt;
}

Result<void> RefuseWaiting(ClinicStore& store, const QString& id, const QString& by) {
  return store.database().InTransaction([&]() -> Result<void> {
    const auto refused = store.database().Run(
        "UPDATE package SET content = NULL, said = '' WHERE id = ? AND patient IS NULL", {id});
    if (!refused) return tl::unexpected(refused.error());
    return store.Log(by, "refused", 0, id);
  });
}

Result<std::vector<PatientDevice>> DevicesOf(const ClinicStore& store, RowId patient) {
  auto query = store.database().Run(
      "SELECT card, said FROM device WHERE patient = ? ORDER BY matched_at DESC", {patient});
  if (!query) return tl::unexpected(query.error());
  std::vector<PatientDevice> devices;
  while (query->next()) {
    devices.push_back({query->value(0).toString(), query->value(1).toString()});
  }
  return devices;
}

}  // namespace nearpoint
