// Whether pictures of the eyes are kept from now on, apart from everything else; how many there
// are; and their deletion.
#pragma once

#include <QWidget>

#include "app/store/eye_picture_store.h"

class QLabel;
class QPushButton;

namespace nearpoint {

class EyePictureChoice : public QWidget {
  Q_OBJECT

 public:
  EyePictureChoice(Store& store, const Person& person, QWidget* parent = nullptr);

 signals:
  void Changed();  // how many there are
  void Said(const QString& sentence, const char* role);

 private:
  void Refresh();
  void Delete();

  EyePictureStore pictures_;
  RowId person_;
  QLabel* count_;
  QPushButton* delete_;
};

}  // namespace nearpoint
