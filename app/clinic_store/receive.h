// The way in: a sealed file becomes measurements of a patient, or waits until somebody says whose
// it is.
#pragma once

#include <QString>
#include <string>
#include <vector>

#include "app/clinic_store/clinic_store.h"
#include "app/exchange/seal.h"

namespace nearpoint {

// What came of one sealed file.
struct Receipt {
  enum class Outcome {
    kTaken,      // its content is with `patient`
    kWaiting,    // nobody has said yet whose this sender is
    kDuplicate,  // this very package came before; nothing was changed
  };
  Outcome outcome = Outcome::kTaken;
  RowId patient = 0;
  QString said;             // what the sender calls themselves
  std::string fingerprint;  // of the sender's card
  int new_measurements = 0;
  int known_measurements = 0;      // their very content was there already
  std::vector<std::string> notes;  // plain sentences on what was odd
};

// Verifies, decrypts and stores. Errors, without the file's name: those of Unseal (damaged,
// tampered with, for somebody else, from a newer version, too large) and of the store. Nothing is
// stored after an error.
[[nodiscard]] Result<Receipt> Receive(ClinicStore& store, ByteView file, const Identity& clinic);

struct WaitingPackage {
  QString id;
  QString card;  // of the sender, as text
  QString said;
  QString made_at;
  QString received_at;
  std::string fingerprint;
  bool card_is_known = false;  // it already sends for somebody, under another name
  std::vector<std::string> inside;
};
[[nodiscard]] Result<std::vector<WaitingPackage>> Waiting(const ClinicStore& store);

// This sender under this name is that patient: everything that waits of them is taken in, and what
// comes later goes there at once. kNotFound: nothing waits of them.
[[nodiscard]] Result<Receipt> MatchSender(ClinicStore& store, const QString& card,
                                          const QString& said, RowId patient, const QString& by);
// What waits under that number is not wanted: its content is overwritten and it is not taken again.
[[nodiscard]] Result<void> RefuseWaiting(ClinicStore& store, const QString& id, const QString& by);

// The cards of a patient's devices, to which a plan can be sent.
struct PatientDevice {
  QString card;
  QString said;
};
[[nodiscard]] Result<std::vector<PatientDevice>> DevicesOf(const ClinicStore& store, RowId patient);

}  // namespace nearpoint
