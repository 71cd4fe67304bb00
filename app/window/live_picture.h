// The person in front of the camera, mirrored, or a word in place of the picture; and where a card
// was seen or shall be held.
#pragma once

#include <QImage>
#include <QPolygonF>
#include <QWidget>

namespace nearpoint {

class LivePicture : public QWidget {
  Q_OBJECT

 public:
  explicit LivePicture(QWidget* parent = nullptr);
  void SetImage(const QImage& image);  // a null image changes nothing
  void SetWord(const QString& word);   // shown while there is no picture
  void Clear();
  // The card that was seen, in shares of the picture before it was mirrored; empty: none.
  void SetOutline(const QPolygonF& shares);
  // Where the card shall go: 0 to 8, row by row of the picture before it was mirrored; -1:
  // anywhere.
  void SetWantedPart(int part);
  [[nodiscard]] QSize sizeHint() const override;

 protected:
  void paintEvent(QPaintEvent* event) override;

 private:
  QImage image_;
  QString word_;
  QPolygonF outline_;
  int wanted_part_ = -1;
};

}  // namespace nearpoint
