// The person in front of the camera, mirrored, or a word in place of the picture.
#pragma once

#include <QImage>
#include <QWidget>

namespace nearpoint {

class LivePicture : public QWidget {
  Q_OBJECT

 public:
  explicit LivePicture(QWidget* parent = nullptr);
  void SetImage(const QImage& image);  // a null image changes nothing
  void SetWord(const QString& word);   // shown while there is no picture
  void Clear();
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  QImage image_;
  QString word_;
};

}  // namespace nearpoint
