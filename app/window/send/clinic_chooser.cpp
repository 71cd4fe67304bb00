#include "app/window/send/clinic_chooser.h"

#include <QComboBox>
#include <QFileDialog>
#include <QImageReader>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/live_picture.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/read_qr.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {

QPushButton* Button(const QString& text, const char* name) {
  auto* button = new QPushButton(text);
  button->setObjectName(name);
  button->setFont(look::Body());
  button->setProperty("role", "way_out");
  return button;
}

}  // namespace

ClinicChooser::ClinicChooser(AppContext& context, const KeyStore& keys, QWidget* parent)
    : QWidget(parent), context_(context), keys_(keys) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(look::Px(8));
  setObjectName("chooser");
  clinic_ = parts::NewComboBox();
  clinic_->setObjectName("clinic");
  clinic_->setAccessibleName(tr("Clinic"));
  column->addWidget(clinic_, 0, Qt::AlignLeft);
  print_ = parts::Text(QString(), "quiet");
  column->addWidget(print_);
  connect(clinic_, &QComboBox::currentIndexChanged, this, [this] {
    const auto chosen = card();
    print_->setText(
        chosen
            ? tr("Fingerprint of their card: %1").arg(QString::fromStdString(Fingerprint(*chosen)))
            : QString());
  });
  new_name_ = new QLineEdit();
  new_name_->setObjectName("clinic_name");
  new_name_->setPlaceholderText(tr("name of the clinic"));
  new_card_ = new QLineEdit();
  new_card_->setObjectName("clinic_card");
  new_card_->setPlaceholderText(tr("their card: a line that begins with nearpoint-card"));
  column->addWidget(parts::Text(tr("Once: the card that your clinic gives you")));
  for (QLineEdit* line : {new_name_, new_card_}) {
    line->setFont(look::Body());
    line->setAccessibleName(line->placeholderText());
    column->addWidget(line);
  }
  AddWays();
  auto* add = Button(tr("Add this clinic"), "add_clinic");
  connect(add, &QPushButton::clicked, this, &ClinicChooser::Add);
  column->addWidget(add, 0, Qt::AlignLeft);
  Refresh();
}

ClinicChooser::~ClinicChooser() {
  if (!scanner_->isHidden()) context_.live.Stop();
}

void ClinicChooser::AddWays() {
  auto* column = qobject_cast<QVBoxLayout*>(layout());
  QPushButton* const scan = Button(tr("Show the camera their QR code"), "scan_card");
  connect(scan, &QPushButton::clicked, this, &ClinicChooser::Scan);
  QPushButton* const picture = Button(tr("QR code in a picture ..."), "card_picture");
  connect(picture, &QPushButton::clicked, this, [this] {
    const QString file =
        QFileDialog::getOpenFileName(this, tr("Picture of their QR code"), QString(),
                                     tr("Pictures (*.png *.jpg *.jpeg);;All files (*)"));
    if (!file.isEmpty()) ReadPicture(file);
  });
  scanner_ = new LivePicture();
  scanner_->setFixedSize(look::Art(320), look::Art(180));
  scanner_->hide();
  for (QWidget* one : {static_cast<QWidget*>(scan), static_cast<QWidget*>(picture),
                       static_cast<QWidget*>(scanner_)}) {
    column->addWidget(one, 0, Qt::AlignLeft);
  }
  connect(&context_.live, &Live::FrameArrived, this,
          [this](const LiveFrame& frame) { Look(frame.preview); });
  connect(&context_.live, &Live::Failed, this, [this](const Error& error) {
    scanner_->hide();
    emit Said(words::SourceError(error), "stop");
  });
}

std::optional<Card> ClinicChooser::card() const {
  auto found = keys_.FindContact(clinic_->currentText().toStdString());
  if (!found) return std::nullopt;
  return *found;
}

QString ClinicChooser::name() const { return clinic_->currentText(); }

void ClinicChooser::Scan() {
  if (context_.live.running()) {
    context_.live.Stop();
    scanner_->hide();
    return;
  }
  scanner_->SetWord(tr("The camera is starting ..."));
  scanner_->show();
  context_.live.Start(context_.open_source(context_));
}

void ClinicChooser::Look(const QImage& mirrored) {
  if (mirrored.isNull()) return;
  scanner_->SetImage(mirrored);
  const auto text = ReadMirroredQr(mirrored);
  if (!text) return;
  context_.live.Stop();
  scanner_->hide();
  TakeText(*text);
}

void ClinicChooser::ReadPicture(const QString& file) {
  QImageReader reader(file);
  reader.setAutoTransform(true);
  const QImage picture = reader.read();
  if (picture.isNull()) {
    emit Said(tr("%1: this picture cannot be read.").arg(file), "stop");
    return;
  }
  const auto text = ReadQr(picture);
  if (!text) {
    emit Said(tr("%1: no QR code can be read in this picture.").arg(file), "warm");
    return;
  }
  TakeText(*text);
}

void ClinicChooser::TakeText(const QString& text) {
  const auto card = ParseCard(text.toStdString());
  if (!card) {
    emit Said(words::ForError(card.error()), "stop");
    return;
  }
  new_card_->setText(text);
  new_name_->setFocus();
  emit Said(
      tr("✓ A card was read; its fingerprint is %1. Write the name of the clinic beside it and "
         "add it.")
          .arg(QString::fromStdString(Fingerprint(*card))),
      "soft");
}

void ClinicChooser::Refresh() {
  clinic_->clear();
  const auto contacts = keys_.Contacts();
  if (contacts) {
    for (const Contact& contact : *contacts) clinic_->addItem(QString::fromStdString(contact.name));
  } else if (contacts.error().code != ErrorCode::kNotFound) {
    print_->setText(words::ForError(contacts.error()));
  }
  clinic_->setVisible(clinic_->count() > 0);
}

void ClinicChooser::Add() {
  const auto card = ParseCard(new_card_->text().toStdString());
  if (!card) {
    emit Said(words::ForError(card.error()), "stop");
    return;
  }
  const QString name = new_name_->text().trimmed();
  if (name.isEmpty()) {
    emit Said(tr("Write the name of the clinic beside its card."), "warm");
    return;
  }
  if (const auto added = keys_.AddContact(name.toStdString(), *card); !added) {
    emit Said(words::ForError(added.error()), "stop");
    return;
  }
  Refresh();
  clinic_->setCurrentText(name);
  new_name_->clear();
  new_card_->clear();
  emit Said(tr("✓ Added. Have them read out their fingerprint and compare: only then it is certain "
               "whose card it is."),
            "soft");
}

}  // namespace nearpoint
