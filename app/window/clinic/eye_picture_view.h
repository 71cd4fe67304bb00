// The pictures of the eyes of one trial, as they came: at break and at recovery.
#pragma once

#include <QWidget>
#include <vector>

#include "app/records/eye_picture.h"

class QVBoxLayout;

namespace nearpoint {

class EyePictureView : public QWidget {
  Q_OBJECT

 public:
  explicit EyePictureView(QWidget* parent = nullptr);
  // Those of that trial; a sentence where there are none.
  void Show(const std::vector<EyePicture>& pictures, int trial);

 private:
  QVBoxLayout* column_;
};

}  // namespace nearpoint
