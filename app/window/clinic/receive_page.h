// What homes send: dropped here, chosen, found in a watched folder, or left on the record server.
// Who is not known waits.
#pragma once

#include <QFileSystemWatcher>
#include <optional>

#include "app/clinic_store/receive.h"
#include "app/fhir_push/fhir_fetch.h"
#include "app/window/clinic/clinic.h"

namespace nearpoint {

class TokenField;

class ReceivePage : public ClinicPage {
  Q_OBJECT

 public:
  explicit ReceivePage(AppContext& context, QWidget* parent = nullptr);
  // Takes in each file and says of each what became of it. The files themselves stay where they
  // are.
  void Take(const QStringList& files);
  // Asks the record server for what came since the last time.
  void Ask();

 protected:
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dropEvent(QDropEvent* event) override;

 private:
  void ShowWaiting();
  void AddWaiting(const WaitingPackage& one, const std::vector<PatientRow>& patients);
  void LookIntoFolder();
  void ShowServer();
  void TakePage(const SealedFilesPage& page);
  // Absent after a sentence on why.
  [[nodiscard]] std::optional<OwnKeys> Keys();
  void ShowOutcome(const QStringList& lines);
  [[nodiscard]] QString TakeOne(const OwnKeys& keys, const QString& file);
  struct Taken {
    QString sentence;
    bool was_here = false;
  };
  [[nodiscard]] Taken TakeBytes(const OwnKeys& keys, ByteView file);
  [[nodiscard]] QString Sentence(const Receipt& receipt);

  QVBoxLayout* outcome_ = nullptr;
  QVBoxLayout* server_ = nullptr;
  QVBoxLayout* waiting_ = nullptr;
  QFileSystemWatcher watcher_;
  TokenField* token_ = nullptr;
  FhirFetch* fetch_ = nullptr;
  QStringList fetched_;  // a line for each file of the server
  std::string newest_;   // of what the server has shown
};

}  // namespace nearpoint
