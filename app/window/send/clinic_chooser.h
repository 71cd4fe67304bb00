// To which clinic: one of those whose card is here, or a new one by its card: as text, as a QR code
// before the camera, or in a picture.
#pragma once

#include <QWidget>
#include <optional>

#include "app/exchange/key_store.h"

class QComboBox;
class QImage;
class QLabel;
class QLineEdit;

namespace nearpoint {

struct AppContext;
class LivePicture;

class ClinicChooser : public QWidget {
  Q_OBJECT

 public:
  ClinicChooser(AppContext& context, const KeyStore& keys, QWidget* parent = nullptr);
  ~ClinicChooser() override;

  [[nodiscard]] std::optional<Card> card() const;
  [[nodiscard]] QString name() const;
  // A picture of the camera, mirrored as the preview has it: a card in it is taken.
  void Look(const QImage& mirrored);
  // The same from a file.
  void ReadPicture(const QString& file);

 signals:
  void Said(const QString& sentence, const char* role);

 private:
  void AddWays();
  void Scan();
  void TakeText(const QString& text);
  void Add();
  void Refresh();

  AppContext& context_;
  const KeyStore& keys_;
  QComboBox* clinic_;
  QLabel* print_;
  QLineEdit* new_name_;
  QLineEdit* new_card_;
  LivePicture* scanner_;
};

}  // namespace nearpoint
