// What homes send: dropped here, chosen, or found in a watched folder. Who is not known waits.
#pragma once

#include <QFileSystemWatcher>

#include "app/clinic_store/receive.h"
#include "app/window/clinic/clinic.h"

namespace nearpoint {

class ReceivePage : public ClinicPage {
  Q_OBJECT

 public:
  explicit ReceivePage(AppContext& context, QWidget* parent = nullptr);
  // Takes in each file and says of each what became of it. The files themselves stay where they
  // are.
  void Take(const QStringList& files);

 protected:
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dropEvent(QDropEvent* event) override;

 private:
  void ShowWaiting();
  void AddWaiting(const WaitingPackage& one, const std::vector<PatientRow>& patients);
  void LookIntoFolder();
  [[nodiscard]] QString TakeOne(const OwnKeys& keys, const QString& file);
  [[nodiscard]] QString Sentence(const Receipt& receipt);

  QVBoxLayout* outcome_ = nullptr;
  QVBoxLayout* waiting_ = nullptr;
  QFileSystemWatcher watcher_;
};

}  // namespace nearpoint
