#include "app/window/pages/card_print_page.h"

#include <QBoxLayout>
#include <QFrame>
#include <QKeyEvent>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollArea>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>
#include <functional>
#include <utility>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/card_words.h"
#include "app/window/keep_calibration.h"
#include "app/window/length_box.h"
#include "app/window/live_picture.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"
#include "calibration/print_scale.h"

namespace nearpoint {
namespace {

constexpr double kStepMm = 0.5;  // as a ruler is read
constexpr double kFirstMm = 100 - kStepMm;

// Empty until somebody types: 100 mm must come from the ruler, not from this program.
class RulerBox : public LengthBox {
 public:
  explicit RulerBox(std::function<void()> take) : take_(std::move(take)) {
    setRange(0, 200);
    setSingleStep(kStepMm);
    setSpecialValueText(QStringLiteral(" "));
  }

  void stepBy(int steps) override {
    if (value() <= 0) setValue(kFirstMm);
    QDoubleSpinBox::stepBy(steps);
  }

 protected:
  // Return keeps what was typed instead of leaving the page.
  void keyPressEvent(QKeyEvent* event) override {
    if (event->key() != Qt::Key_Return && event->key() != Qt::Key_Enter) {
      QDoubleSpinBox::keyPressEvent(event);
      return;
    }
    interpretText();
    take_();
  }

 private:
  std::function<void()> take_;
};

QPushButton* ChoiceButton(const QString& text, const char* name) {
  auto* button = new QPushButton(text);
  button->setObjectName(name);
  button->setProperty("role", "choice");
  button->setFont(look::Large());
  button->setAutoDefault(true);
  return button;
}

}  // namespace

CardPrintPage::CardPrintPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kCard));
  SetHeading(tr("How large was the card printed?"));
  const QString why =
      tr("Printers like to shrink a page. A print at 94 % would make every length 6 % too large, "
         "and no picture of the card alone shows it. One of two ways tells.");
  // Where the text is large, what changes comes first.
  if (!look::IsLarge()) SetLead(why);
  headline_ = parts::Text(QString());
  headline_->setFont(look::Large());
  line_ = parts::Text(QString());
  headline_->hide();
  line_->hide();
  body()->addWidget(headline_);
  body()->addWidget(line_);
  auto* row = parts::NewRow();
  row->addWidget(ByRuler(), 1);
  row->addWidget(ByCamera(), 1);
  body()->addLayout(row);
  if (look::IsLarge()) body()->addWidget(parts::Text(why));
  body()->addWidget(parts::Text(
      tr("Skipped, every length that the card measures counts as known to 4 % only."), "quiet"));
  body()->addStretch(1);
  SetNext(tr("Skip"), PageId::kCard);

  Live& live = context().live;
  connect(&live, &Live::Looked, this, &CardPrintPage::OnLook);
  connect(&live, &Live::Failed, this, &CardPrintPage::OnFailed);
  if (PrintIsMeasured(context().profile)) {
    Say(tr("✓ Measured: %1 of its size.").arg(words::PrintPercent(PrintOf(context().profile))),
        tr("Another print is to be measured again."));
  }
  ruler_->setFocus();
  ruler_->selectAll();
}

CardPrintPage::~CardPrintPage() { context().live.Stop(); }

QFrame* CardPrintPage::ByRuler() {
  QFrame* const card = parts::Card(tr("With a ruler"));
  QVBoxLayout* const column = parts::LayoutOf(card);
  column->addWidget(
      parts::Text(tr("How long is the line of 100 mm on your sheet? To half a millimetre.")));
  ruler_ = new RulerBox([this] { TakeRuler(); });
  ruler_->setObjectName("ruler");
  ruler_->setAccessibleName(tr("Length of the line by your ruler, in millimetres"));
  column->addWidget(ruler_, 0, Qt::AlignLeft);
  QPushButton* const take = ChoiceButton(tr("Keep this"), "take");
  column->addWidget(take, 0, Qt::AlignLeft);
  column->addStretch(1);
  connect(take, &QPushButton::clicked, this, &CardPrintPage::TakeRuler);
  return card;
}

QFrame* CardPrintPage::ByCamera() {
  QFrame* const card = parts::Card(tr("With a bank card and the camera"));
  QVBoxLayout* const column = parts::LayoutOf(card);
  column->addWidget(
      parts::Text(tr("Lay a bank card on its place on the sheet, before you cut anything, and let "
                     "the camera look squarely at both.")));
  look_ = ChoiceButton(tr("Look"), "look");
  column->addWidget(look_, 0, Qt::AlignLeft);
  picture_ = new LivePicture();
  picture_->setMinimumHeight(look::Art(200));
  progress_ = new QProgressBar();
  progress_->setRange(0, static_cast<int>(PrintViews::kEnough));
  progress_->setFont(look::Body());
  progress_->setFormat(tr("%v of %m pictures"));
  progress_->setAccessibleName(tr("Pictures taken"));
  seen_ = parts::Text(QString(), "quiet");
  for (QWidget* part : {static_cast<QWidget*>(picture_), static_cast<QWidget*>(progress_),
                        static_cast<QWidget*>(seen_)}) {
    part->hide();
    column->addWidget(part);
  }
  if (!context().calibrated) {
    look_->setEnabled(false);
    seen_->setText(tr("The camera itself must be measured first."));
    seen_->show();
  }
  column->addStretch(1);
  connect(look_, &QPushButton::clicked, this, &CardPrintPage::Look);
  return card;
}

void CardPrintPage::Say(const QString& headline, const QString& line) {
  headline_->setText(headline);
  line_->setText(line);
  headline_->show();
  line_->setVisible(!line.isEmpty());
  // In sight, once it has its place.
  QTimer::singleShot(0, this, [this] {
    for (QWidget* part = headline_; part != nullptr; part = part->parentWidget()) {
      if (auto* area = qobject_cast<QScrollArea*>(part)) area->ensureWidgetVisible(headline_);
    }
  });
}

void CardPrintPage::TakeRuler() {
  const auto scale = PrintScaleFromRuler(ruler_->value());
  if (!scale) {
    Say(tr("Type what the ruler shows, in millimetres."), QString());
    ruler_->setFocus();
    ruler_->selectAll();
    return;
  }
  Judge(*scale, PrintMeasure::kRuler);
}

void CardPrintPage::Look() {
  views_ = PrintViews();
  headline_->hide();
  line_->hide();
  progress_->setValue(0);
  seen_->setText(QString());
  for (QWidget* part : {static_cast<QWidget*>(picture_), static_cast<QWidget*>(progress_),
                        static_cast<QWidget*>(seen_)}) {
    part->show();
  }
  picture_->Clear();
  picture_->SetWord(tr("The camera is starting ..."));
  look_->setText(tr("From the beginning"));
  looking_ = true;
  context().live.StartCard(context().open_card_source(context(), CardTask::kPrint),
                           CardTask::kPrint);
}

void CardPrintPage::OnLook(const CardLook& look) {
  if (!looking_) return;
  picture_->SetImage(look.preview);
  QPolygonF outline;
  for (const Eigen::Vector2d& at : look.outline) outline << QPointF(at.x(), at.y());
  picture_->SetOutline(outline);
  if (look.print.scale) views_.Add(*look.print.scale);
  progress_->setValue(std::min(static_cast<int>(views_.count()), progress_->maximum()));
  if (views_.Enough()) {
    looking_ = false;
    context().live.Stop();
    Judge(*views_.Measured(), PrintMeasure::kCard);
    return;
  }
  if (look.preview.isNull()) return;  // words change as rarely as the picture does
  seen_->setText(look.print.scale ? tr("✓ Good") : words::PrintNow(look.print));
}

void CardPrintPage::OnFailed(const Error& error) {
  if (!looking_) return;
  looking_ = false;
  if (const auto scale = views_.Measured()) {  // a recording came to its end
    Judge(*scale, PrintMeasure::kCard);
    return;
  }
  picture_->Clear();
  picture_->SetWord(tr("no picture"));
  seen_->setText(words::SourceError(error));
  seen_->setToolTip(words::Detail(error));
}

void CardPrintPage::Judge(const PrintScale& scale, PrintMeasure how) {
  Profile profile = context().profile;
  const auto true_size = CheckPrint(scale);
  if (!true_size && true_size.error().code == ErrorCode::kInsufficient) {
    Say(tr("That was not clear enough."),
        tr("Bring the sheet nearer and hold it square to the camera, or take a ruler."));
    return;
  }
  profile.print.reset();
  profile.made.print.reset();
  if (true_size) {
    profile.print = scale;
    profile.made.print = MeasuredNow(context(), PrintMethod(scale, how));
  }
  const auto kept = KeepCalibration(context(), profile);
  if (!true_size) {
    Say(tr("This print cannot be used"), words::ScaledPrint(scale));
    SetNext(tr("Skip"));
    return;
  }
  Say(tr("✓ Measured: %1 of its size.").arg(words::PrintPercent(scale)),
      !kept               ? words::ForError(kept.error())
      : profile.made.face ? tr("The face was measured before; measure it again, and this enters.")
                          : tr("What is measured with the card is put right by it."));
  SetNext(tr("Continue"))->setFocus();
}

}  // namespace nearpoint
