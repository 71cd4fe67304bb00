// What the pages for the clinician share, and the page they are made of.
#pragma once

#include "app/clinic_store/clinic_store.h"
#include "app/exchange/key_store.h"
#include "app/window/app_context.h"
#include "app/window/page.h"

namespace nearpoint {

// Opened with the first of its pages; closed with the window.
struct Clinic {
  ClinicStore store;
  KeyStore keys;
  RowId patient = 0;      // that the pages are about
  RowId measurement = 0;  // likewise
  QByteArray token;       // of the record server: in memory alone, gone with the window
};

// "clinic.db" and "clinic-keys" beside the file of the home program.
[[nodiscard]] Result<Clinic*> OpenClinic(AppContext& context);

class ClinicPage : public Page {
  Q_OBJECT

 public:
  explicit ClinicPage(AppContext& context, QWidget* parent = nullptr);
  [[nodiscard]] PageId WayOut() const override { return PageId::kClinic; }
  [[nodiscard]] bool ForPatient() const override { return false; }
  [[nodiscard]] QString Who() const override { return tr("For clinicians"); }

 protected:
  // Absent where the file cannot be opened; the page then says why.
  [[nodiscard]] Clinic* clinic() { return clinic_; }
  // One sentence below the heading, read out by a screen reader; the next takes its place.
  void ShowTrouble(const QString& sentence);
  void ShowTrouble(const Error& error) { ShowTrouble(QString::fromStdString(error.message)); }
  void ShowDone(const QString& sentence);
  // Who is at work, for the record; "" after saying that a name is needed.
  [[nodiscard]] QString By();
  [[nodiscard]] Day Today();
  // Return in a list or a field is for that one alone: it must not accept a measurement.
  void keyPressEvent(QKeyEvent* event) override;

 private:
  void Say(const QString& sentence, const char* role);
  Clinic* clinic_ = nullptr;
};

}  // namespace nearpoint
