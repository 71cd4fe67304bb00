// The way over the clinic's record server: off until somebody enters its address. Carries the same
// sealed file that would be saved, and none twice.
#pragma once

#include <QUrl>
#include <QWidget>

#include "app/exchange/bytes.h"
#include "app/fhir_push/fhir_push.h"
#include "app/window/send/token_field.h"

class QLineEdit;
class QPushButton;
class QVBoxLayout;

namespace nearpoint {

struct AppContext;
class Store;

// The clinic's server at home, as it was entered; empty: none.
[[nodiscard]] QString HomeServer(const Store& store);

class ServerWay : public QWidget {
  Q_OBJECT

 public:
  explicit ServerWay(AppContext& context, PushPatience patience = {}, QWidget* parent = nullptr);

  // content: a hash of what is inside and for whom; the same once more is not sent again. Said()
  // tells how it went.
  void Leave(const Bytes& sealed, const QString& content);

 signals:
  void Wanted();  // the button: seal what is chosen and call Leave()
  void Said(const QString& sentence, const char* role);

 private:
  void SetAddress();
  void ShowToken();
  void End();

  AppContext& context_;
  PushPatience patience_;
  QLineEdit* address_;
  QVBoxLayout* place_;
  TokenField* token_ = nullptr;
  QPushButton* leave_;
  FhirPush* push_ = nullptr;
  // What was tried and may have arrived: tried again it must be the same file.
  QString tried_content_;
  Bytes tried_;
};

}  // namespace nearpoint
