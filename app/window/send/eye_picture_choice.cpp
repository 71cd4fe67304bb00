#include "app/window/send/eye_picture_choice.h"

#include <QCheckBox>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"

namespace nearpoint {

EyePictureChoice::EyePictureChoice(Store& store, const Person& person, QWidget* parent)
    : QWidget(parent), pictures_(store), person_(person.id) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(look::Px(8));
  column->addWidget(parts::Text(
      tr("Only if you want: a small grey strip of your two eyes at the moment of \"two\" and of "
         "\"one again\", so that your clinic can see them. Never the whole face. The strips are "
         "kept from the next measurement on, stay on this computer, and go to your clinic only "
         "when you tick them above. For a child, a parent decides."),
      "quiet"));
  auto* agree = new QCheckBox(tr("Keep such pictures"));
  agree->setObjectName("keep_pictures");
  agree->setFont(look::Body());
  agree->setChecked(pictures_.MayBeKept(person_));
  connect(agree, &QCheckBox::toggled, this, [this](bool on) {
    if (const auto set = pictures_.SetMayBeKept(person_, on); !set) {
      emit Said(words::ForError(set.error()), "stop");
    }
  });
  column->addWidget(agree);
  count_ = parts::Text(QString(), "quiet");
  count_->setObjectName("picture_count");
  column->addWidget(count_);
  delete_ = new QPushButton(tr("Delete the pictures"));
  delete_->setObjectName("delete_pictures");
  delete_->setFont(look::Body());
  delete_->setProperty("role", "way_out");
  connect(delete_, &QPushButton::clicked, this, &EyePictureChoice::Delete);
  column->addWidget(delete_, 0, Qt::AlignLeft);
  Refresh();
}

void EyePictureChoice::Refresh() {
  const int count = pictures_.CountOf(person_).value_or(0);
  count_->setText(count == 0 ? tr("No pictures are kept.")
                             : tr("%n picture(s) are kept.", nullptr, count));
  delete_->setVisible(count > 0);
}

void EyePictureChoice::Delete() {
  const auto deleted = pictures_.DeleteAll(person_);
  Refresh();
  emit Changed();
  if (deleted) {
    emit Said(tr("✓ The pictures are deleted and overwritten. What was sent before is with your "
                 "clinic."),
              "soft");
  } else {
    emit Said(words::ForError(deleted.error()), "stop");
  }
}

}  // namespace nearpoint
