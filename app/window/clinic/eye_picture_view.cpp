#include "app/window/clinic/eye_picture_view.h"

#include <QLabel>
#include <QVBoxLayout>

#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {

EyePictureView::EyePictureView(QWidget* parent) : QWidget(parent) {
  column_ = new QVBoxLayout(this);
  column_->setContentsMargins(0, 0, 0, 0);
  column_->setSpacing(look::Px(6));
}

void EyePictureView::Show(const std::vector<EyePicture>& pictures, int trial) {
  while (QLayoutItem* item = column_->takeAt(0)) {
    if (QWidget* const gone = item->widget()) {
      gone->hide();  // at once: it goes when the events do
      gone->deleteLater();
    }
    delete item;
  }
  for (const EyePicture& picture : pictures) {
    // What came was looked at before it was stored; a file that was changed since shows nothing.
    if (picture.trial != trial || !IsEyePicture(picture.jpeg)) continue;
    QPixmap pixmap;
    if (!pixmap.loadFromData(QByteArray::fromStdString(picture.jpeg), "JPEG")) continue;
    const QString words = picture.moment == EyeMoment::kBreak ? tr("The eyes at the break")
                                                              : tr("The eyes at the recovery");
    column_->addWidget(parts::Text(words, "quiet"));
    auto* shown = new QLabel();
    shown->setObjectName(picture.moment == EyeMoment::kBreak ? "eyes_break" : "eyes_recovery");
    constexpr double kEnlarged = 1.5;
    shown->setPixmap(
        pixmap.scaledToWidth(qRound(pixmap.width() * kEnlarged), Qt::SmoothTransformation));
    shown->setAccessibleName(words);
    column_->addWidget(shown);
  }
  column_->addWidget(parts::Text(
      column_->isEmpty()
          ? tr("No pictures of the eyes came of this trial.")
          : tr("Left in the picture is the right eye. The pictures were sent with a consent of its "
               "own and go with the person's data when that is deleted."),
      "quiet"));
}

}  // namespace nearpoint
