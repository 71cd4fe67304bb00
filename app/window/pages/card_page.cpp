#include "app/window/pages/card_page.h"

#include <QDir>
#include <QFileDialog>
#include <QFrame>
#include <QLabel>
#include <QLocale>
#include <QPushButton>
#include <QStandardPaths>
#include <QVBoxLayout>

#include "app/print/card_sheet.h"
#include "app/records/atomic_file.h"
#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/card_words.h"
#include "app/window/exercise/dot_size.h"
#include "app/window/keep_calibration.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/safety_words.h"
#include "app/window/words.h"
#include "calibration/print_scale.h"

namespace nearpoint {
namespace {

QString Percent(double share, int digits) {
  return QLocale().toString(100 * share, 'f', digits) + QChar(0xa0) + '%';
}

// What is still unknown of the scale of this face, as a share.
std::optional<double> FaceShare(const Profile& profile) {
  const auto& iris = profile.face.iris;
  if (!iris || !profile.made.face) return std::nullopt;
  return iris->sd / iris->value;
}

}  // namespace

CardPage::CardPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kCard));
  SetHeading(tr("How exact shall it be?"));
  SetLead(
      tr("A card makes it exact. Each part takes one or two minutes, each can be skipped, and "
         "none has to be done today."));
  AddSheet();
  const Profile& profile = context().profile;
  QFrame* const card = parts::Card(tr("What the card measures"));
  parts_ = parts::LayoutOf(card);
  const auto& made = profile.made;
  AddChoice(parts_, "camera", tr("1. The camera"),
            context().calibrated && made.camera
                ? tr("✓ %1 Its scale is known to %2.")
                      .arg(WhenMeasured(*made.camera), Percent(profile.camera.focal_rel_sd, 1))
                : tr("→ Not measured. Without it every distance may be off by about 7 %: 6 mm at "
                     "8 cm, always in the same direction."),
            PageId::kCardCamera, true);
  const auto share = FaceShare(profile);
  AddChoice(
      parts_, "face", tr("2. Your face"),
      share && !PrintIsMeasured(profile)
          ? tr("✓ %1 Its scale is known to %2: the print was not measured.")
                .arg(WhenMeasured(*made.face), Percent(*share, 1))
      : share
          ? tr("✓ %1 Its scale is known to %2.").arg(WhenMeasured(*made.face), Percent(*share, 1))
      : context().calibrated
          ? tr("→ Not measured. The lengths of an average face are used: plus or minus 4 % "
               "instead of 1 %.")
          : tr("→ Not measured: plus or minus 4 % instead of 1 %. The camera comes first."),
      PageId::kCardFace, context().calibrated);
  AddChoice(parts_, "target", tr("3. The place of the letter"),
            made.target ? tr("✓ %1").arg(WhenMeasured(*made.target))
                        : tr("→ Not measured. Some millimetres of every distance are a guess."),
            PageId::kCardTarget, true);
  AddChoice(
      parts_, "screen", tr("4. The size of this screen"),
      DotSizeOf(*this, context().store).measured
          ? tr("✓ Measured. The exercise and a letter on the screen use it.")
          : tr("→ Not measured. Only the exercise and a letter on the screen need it; without "
               "it they may be %1 % too large or too small.")
                .arg(kStatedPercent),
      PageId::kCardScreen, true);
  const auto& held = profile.held_card;
  AddChoice(parts_, "touch", tr("5. The touch of the nose"),
            held && held->zero && !PrintIsMeasured(profile)
                ? tr("✓ Measured. A distance to the card is known to %1 mm and 4 %: the print was "
                     "not measured.")
                      .arg(QLocale().toString(held->zero->sd.mm(), 'f', 0))
            : held && held->zero ? tr("✓ Measured. A distance to the card is known to %1 mm.")
                                       .arg(QLocale().toString(held->zero->sd.mm(), 'f', 0))
            : context().calibrated
                ? tr("→ Not measured. Only a card that you bring to your nose needs it; without it "
                     "its distance may be wrong by 5 mm, or by 20 mm without your face.")
                : tr("→ Not measured. Only a card that you bring to your nose needs it. The camera "
                     "comes first."),
            PageId::kCardTouch, context().calibrated);
  body()->addWidget(card);
  body()->addWidget(parts::Text(
      tr("Without the card your results can be compared with each other from day to day, but less "
         "surely with the usual limit. The band of your result is that much wider."),
      "quiet"));
  body()->addStretch(1);
  // None of it must be done today: Return goes on.
  SetNext(context().first_run ? tr("Continue") : tr("Done"), After(context(), PageId::kCard))
      ->setFocus();
  if (context().first_run) AddAside(tr("Back"), WayOut());
}

PageId CardPage::WayOut() const { return Before(context(), PageId::kCard); }

void CardPage::AddSheet() {
  QFrame* const card = parts::Card(tr("The printed card"));
  QVBoxLayout* const column = parts::LayoutOf(card);
  column->addWidget(
      parts::Text(tr("Print the sheet at 100 %, not fitted to the page. Cut the card out, fold it, "
                     "and glue it around an old bank card so that it is stiff.")));
  auto* save = new QPushButton(tr("Save the sheet to print ..."), card);
  save->setObjectName("sheet");
  save->setFont(look::Body());
  save->setAutoDefault(true);
  column->addWidget(save, 0, Qt::AlignLeft);
  says_ = parts::Text(QString(), "quiet");
  says_->hide();
  column->addWidget(says_);
  const Profile& profile = context().profile;
  QPushButton* const print = parts::Choice(
      tr("How large was it printed?"),
      PrintIsMeasured(profile)
          ? tr("✓ %1 It is %2 of its size.")
                .arg(WhenMeasured(*profile.made.print), words::PrintPercent(PrintOf(profile)))
          : tr("→ Not measured. A print that was made smaller would make everything too large, and "
               "no picture of it shows that. A ruler or a bank card tells."));
  print->setObjectName("print");
  connect(print, &QPushButton::clicked, this, [this] { emit Wanted(PageId::kCardPrint); });
  column->addWidget(print);
  body()->addWidget(card);
  connect(save, &QPushButton::clicked, this, &CardPage::SaveSheet);
}

void CardPage::Say(const QString& text) {
  says_->setText(text);
  says_->setToolTip(QString());
  says_->show();
}

void CardPage::SaveSheet() {
  const QString folder = QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation);
  const QString file =
      QFileDialog::getSaveFileName(this, tr("Save the sheet to print"),
                                   QDir(folder).filePath("nearpoint-card.pdf"), "PDF (*.pdf)");
  if (file.isEmpty()) return;
  const bool american = QLocale().territory() == QLocale::UnitedStates;
  const auto pdf =
      CardSheetPdf(american ? PaperSize::kLetter : PaperSize::kA4, words::WordsInUse());
  auto written = pdf ? WriteFileAtomically(file.toStdString(), *pdf) : tl::unexpected(pdf.error());
  if (!written) {
    Say(tr("The sheet could not be written there. Choose another folder."));
    says_->setToolTip(words::Detail(written.error()));
    return;
  }
  Say(tr("✓ Saved as %1.").arg(QDir::toNativeSeparators(file)));
}

}  // namespace nearpoint
