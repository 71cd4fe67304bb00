// From home to the clinic: choose, see in plain words what is inside, seal, save or leave on the
// clinic's server.
#pragma once

#include <optional>

#include "app/exchange/bytes.h"
#include "app/exchange/key_store.h"
#include "app/window/page.h"
#include "app/window/send/home_package.h"

class QCheckBox;
class QVBoxLayout;

namespace nearpoint {

class ClinicChooser;
class ServerWay;

class SendPage : public Page {
  Q_OBJECT

 public:
  explicit SendPage(AppContext& context, QWidget* parent = nullptr);
  // What is chosen, sealed to the clinic that is chosen.
  void SealTo(const QString& file);

 private:
  void ShowChoice();
  void ShowClinics();
  void ShowPictures();
  void ShowServer();
  void RefreshInside();
  struct Sealed {
    Bytes file;
    QString content;  // a hash of what is inside and for whom
  };
  // Absent after a sentence on what is missing.
  [[nodiscard]] std::optional<Sealed> SealChosen();
  void LeaveOnServer();
  void Say(const QString& sentence, const char* role);
  [[nodiscard]] Result<HomePackage> Chosen();

  KeyStore keys_;
  std::vector<std::pair<RowId, QCheckBox*>> sessions_;
  QCheckBox *diary_ = nullptr, *pictures_ = nullptr;
  QVBoxLayout* inside_ = nullptr;
  ClinicChooser* clinic_ = nullptr;
  ServerWay* server_ = nullptr;
};

// The keys of this home: beside its file.
[[nodiscard]] KeyStore HomeKeys(const Store& store);

}  // namespace nearpoint
