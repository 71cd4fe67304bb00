#include "app/window/pages/settings_page.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDir>
#include <QFormLayout>
#include <QFrame>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"

namespace nearpoint {

SettingsPage::SettingsPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetHeading(tr("Settings"));
  MakeChoices();

  QFrame* const again = parts::Card(tr("Set up again"));
  const struct {
    const char* name;
    QString text;
    PageId page;
  } ways[] = {{"camera", tr("Camera, light and target"), PageId::kCamera},
              {"card", tr("Calibration by the card"), PageId::kCard},
              {"lag", tr("How fast my hand is"), PageId::kLag}};
  for (const auto& way : ways) {
    auto* button = new QPushButton(way.text, again);
    button->setObjectName(way.name);
    button->setFont(look::Body());
    button->setAutoDefault(true);  // else Return takes "Done"
    connect(button, &QPushButton::clicked, this, [this, page = way.page] { emit Wanted(page); });
    parts::LayoutOf(again)->addWidget(button, 0, Qt::AlignLeft);
  }
  if (context().person) {
    auto* remove = new QPushButton(tr("Delete this person ..."), again);
    remove->setObjectName("delete_person");
    remove->setFont(look::Body());
    remove->setAutoDefault(true);
    remove->setAccessibleDescription(context().person->name);
    connect(remove, &QPushButton::clicked, this, [this] { emit Wanted(PageId::kDeletePerson); });
    parts::LayoutOf(again)->addWidget(remove, 0, Qt::AlignLeft);
  }
  body()->addWidget(again);

  QFrame* const kept = parts::Card(tr("Where your results are"));
  auto* place = parts::Text(QDir::toNativeSeparators(context().store.database().file()));
  place->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
  parts::LayoutOf(kept)->addWidget(place);
  parts::LayoutOf(kept)->addWidget(parts::Text(
      tr("This file holds numbers, your answers to the questions before measuring, and pictures of "
         "the eyes only where somebody agreed to them under \"Send to my clinic\". Nothing leaves "
         "this computer unless you send it."),
      "quiet"));
  body()->addWidget(kept);
  body()->addStretch(1);
  SetNext(tr("Done"), PageId::kHome);
}

void SettingsPage::MakeChoices() {
  QFrame* const card = parts::Card(QString());
  auto* form = new QFormLayout();
  form->setRowWrapPolicy(QFormLayout::WrapLongRows);
  form->setHorizontalSpacing(look::Px(16));
  form->setVerticalSpacing(look::Px(12));

  auto* language = parts::NewComboBox(card);
  language->setObjectName("language");
  language->setFont(look::Body());
  language->setAccessibleName(tr("Language"));
  for (const Language& known : Languages()) language->addItem(known.name, known.code);
  language->setCurrentIndex(language->findData(LanguageInUse()));
  form->addRow(parts::Text(tr("Language")), language);
  connect(language, &QComboBox::activated, this, [this, language] {
    Keep("language", language->currentData().toString());
    UseLanguage(language->currentData().toString());
    emit LookChanged();
  });

  auto* size = parts::NewComboBox(card);
  size->setObjectName("text_size");
  size->setFont(look::Body());
  size->setAccessibleName(tr("Size of the text"));
  for (const int percent : {100, 125, 150, 200}) {
    size->addItem(QLocale().toString(percent) + QChar(0xa0) + '%', percent);
  }
  size->setCurrentIndex(size->findData(qRound(look::Scale() * 100)));
  form->addRow(parts::Text(tr("Size of the text")), size);
  connect(size, &QComboBox::activated, this, [this, size] {
    Keep("text_percent", size->currentData().toString());
    look::SetScale(size->currentData().toInt() / 100.0);
    emit LookChanged();
  });
  parts::LayoutOf(card)->addLayout(form);

  auto* sound = new QCheckBox(tr("Tones and spoken words"), card);
  sound->setObjectName("sound");
  sound->setFont(look::Body());
  sound->setChecked(context().sound.on());
  connect(sound, &QCheckBox::toggled, this, [this](bool on) {
    context().sound.SetOn(on);
    Keep("sound", on ? "on" : "off");
  });
  parts::LayoutOf(card)->addWidget(sound);
  const QString can =
      !context().sound.has_device()
          ? tr("This computer has no sound device that can be used, so everything is shown only.")
      : !context().sound.has_voice()
          ? tr("Tones work. For spoken words this computer has no voice in this language.")
          : tr("Tones and a voice work on this computer.");
  parts::LayoutOf(card)->addWidget(parts::Text(can, "quiet"));
  body()->addWidget(card);
}

void SettingsPage::Keep(const QString& key, const QString& value) {
  const auto kept = context().store.SetSetting(key, value);
  if (!kept) {
    body()->insertWidget(0, parts::Text(words::ForError(kept.error()), "stop"));
  }
}

}  // namespace nearpoint
