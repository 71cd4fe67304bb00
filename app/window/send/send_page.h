// From home to the clinic: choose, see in plain words what is inside, seal, save.
#pragma once

#include "app/exchange/key_store.h"
#include "app/window/page.h"
#include "app/window/send/home_package.h"

class QCheckBox;
class QComboBox;
class QLabel;
class QLineEdit;
class QVBoxLayout;

namespace nearpoint {

class SendPage : public Page {
  Q_OBJECT

 public:
  explicit SendPage(AppContext& context, QWidget* parent = nullptr);
  // What is chosen, sealed to the clinic that is chosen.
  void SealTo(const QString& file);

 private:
  void ShowChoice();
  void ShowClinics();
  void RefreshClinics();
  void RefreshInside();
  void AddClinic();
  void Say(const QString& sentence, const char* role);
  [[nodiscard]] Result<HomePackage> Chosen();

  KeyStore keys_;
  std::vector<std::pair<RowId, QCheckBox*>> sessions_;
  QCheckBox* diary_ = nullptr;
  QVBoxLayout* inside_ = nullptr;
  QComboBox* clinic_ = nullptr;
  QLabel* print_ = nullptr;
  QLineEdit *clinic_name_ = nullptr, *clinic_card_ = nullptr;
};

// The keys of this home: beside its file.
[[nodiscard]] KeyStore HomeKeys(const Store& store);

}  // namespace nearpoint
