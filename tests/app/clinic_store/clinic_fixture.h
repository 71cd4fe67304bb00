// A clinic's file in a folder that goes away, with keys of its own and a home that sends to it.
#pragma once

#include <gmock/gmock.h>

#include <QCoreApplication>
#include <QTimeZone>

#include "app/clinic_store/person_file.h"
#include "app/clinic_store/receive.h"
#include "app/records/exercise_plan_json.h"
#include "tests/support/clinic_sessions.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {

class ClinicTest : public testing::Test {
 protected:
  [[nodiscard]] QString File() const { return QString::fromStdString(folder_ / "clinic.db"); }
  [[nodiscard]] ClinicStore Open() {
    return ClinicStore::Open(File(), [this] { return now_; }).value();
  }
  [[nodiscard]] Bytes Sealed(const Package& package) const {
    return Seal(package, home_, clinic_.card()).value();
  }
  [[nodiscard]] Result<Receipt> Receive(ClinicStore& store, const Package& package) const {
    return nearpoint::Receive(store, Sealed(package), clinic_);
  }
  [[nodiscard]] QString HomeCard() const { return QString::fromStdString(ToText(home_.card())); }
  // A patient whose device is known, with those sessions.
  RowId Known(ClinicStore& store, const QString& name, const std::vector<SentSession>& sessions,
              std::uint8_t id = 1) {
    Patient patient;
    patient.name = name;
    patient.birth_year = 1996;
    const auto added = store.AddPatient(patient);
    EXPECT_THAT(added, IsOk());
    const RowId row = added ? added->id : 0;
    const std::string said = name.toStdString();
    EXPECT_THAT(Receive(store, PackageOf(sessions, said, id)), IsOk());
    EXPECT_THAT(MatchSender(store, HomeCard(), name, row, "A. Optometrist"), IsOk());
    return row;
  }
  [[nodiscard]] static Identity KeysOf(std::uint8_t number) {
    Identity::Seed sign{};
    Identity::Seed box{};
    sign.fill(number);
    box.fill(static_cast<std::uint8_t>(number + 100));
    return Identity::FromSeeds(sign, box);
  }
  [[nodiscard]] static Day On(const char* day) { return ParseDay(day).value(); }

  TempFolder folder_;
  QDateTime now_{QDate(2026, 3, 14), QTime(9, 26), QTimeZone::utc()};
  Identity clinic_ = KeysOf(1);
  Identity home_ = KeysOf(2);
};

}  // namespace nearpoint
