// Who works here, the keys of the clinic, the watched folder, the record server, tables for
// research, how long data is kept, and whether the journal is whole.
#pragma once

#include "app/window/clinic/clinic.h"

class QLineEdit;

namespace nearpoint {

class ClinicSetupPage : public ClinicPage {
  Q_OBJECT

 public:
  explicit ClinicSetupPage(AppContext& context, QWidget* parent = nullptr);

  // Three tables into that folder.
  void ExportTo(const QString& folder);

 private:
  void ShowWho();
  void ShowKeys();
  void ShowServer();
  void ShowResearch();
  void ShowRetention();
  void ShowJournal();
  void Set(const QString& key, const QString& value);
};

}  // namespace nearpoint
