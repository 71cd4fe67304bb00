#include "app/window/pages/card_face_page.h"

#include <QBoxLayout>
#include <QFrame>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/card_words.h"
#include "app/window/keep_calibration.h"
#include "app/window/live_picture.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"
#include "calibration/print_scale.h"

namespace nearpoint {
namespace {

constexpr std::size_t kLeastViews = 8;  // as FitFaceScale asks for

QProgressBar* Bar(const QString& name, int most, const QString& format) {
  auto* bar = new QProgressBar();
  bar->setRange(0, most);
  bar->setFont(look::Body());
  bar->setFormat(format);
  bar->setAccessibleName(name);
  return bar;
}

QString Millimetres(const std::optional<UncertainLength>& length) {
  if (!length) return QStringLiteral("—");
  return QLocale().toString(length->value.mm(), 'f', 1) + QStringLiteral(" ± ") +
         QLocale().toString(length->sd.mm(), 'f', 1) + QStringLiteral(" mm");
}

std::optional<double> AgeOf(const AppContext& context) {
  if (!context.person || !context.person->birth_year) return std::nullopt;
  return std::clamp<double>(context.store.Now().date().year() - *context.person->birth_year, 3,
                            120);
}

}  // namespace

CardFacePage::CardFacePage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kCard));
  SetHeading(tr("Your face, by the card"));
  // Where the text is large, what changes comes first: nobody scrolls with a card in the hand.
  const bool large = look::IsLarge();
  if (large) {
    HideHeading();
  } else {
    SetLead(WhatToDo());
  }
  auto* row = parts::NewRow();
  picture_ = new LivePicture();
  picture_->setMinimumHeight(look::Art(250));
  QFrame* const card = parts::Card(QString());
  headline_ = parts::Text(QString());
  headline_->setFont(look::Large());
  line_ = parts::Text(QString(), "quiet");
  pictures_ =
      Bar(tr("Pictures taken"), static_cast<int>(FaceViews::kEnoughViews), tr("%v of %m pictures"));
  turned_ = Bar(tr("How far the head was turned"), static_cast<int>(FaceViews::kEnoughTurnDeg),
                tr("turned by %v of %m degrees"));
  QVBoxLayout* const column = parts::LayoutOf(card);
  column->addWidget(headline_);
  if (large) column->addWidget(line_);
  column->addWidget(pictures_);
  column->addWidget(turned_);
  if (!large) column->addWidget(line_);
  column->addStretch(1);
  row->addWidget(large ? static_cast<QWidget*>(card) : picture_, large ? 2 : 3);
  row->addWidget(large ? static_cast<QWidget*>(picture_) : card, large ? 3 : 2);
  body()->addLayout(row);
  body()->addWidget(parts::Text(tr("It also works under the nose, on the upper lip. A child needs "
                                   "a helper's hand. No picture "
                                   "is kept."),
                                "quiet"));
  body()->addWidget(parts::Text(
      tr("Skipped, the lengths of an average face are used: plus or minus 4 % instead of 1 %."),
      "quiet"));
  body()->addStretch(1);

  again_ = AddAside(tr("From the beginning"));
  again_->setObjectName("again");
  connect(again_, &QPushButton::clicked, this, &CardFacePage::Start);
  keep_ = AddAside(tr("Keep it all the same"));
  keep_->setObjectName("keep");
  keep_->hide();
  connect(keep_, &QPushButton::clicked, this, [this] {
    if (unusual_) Keep(*unusual_);
  });
  unchecked_ = AddAside(tr("Go on without measuring it"));
  unchecked_->setObjectName("unchecked");
  unchecked_->hide();
  connect(unchecked_, &QPushButton::clicked, this, &CardFacePage::Start);
  skip_ = AddAside(tr("Skip"), PageId::kCard);
  skip_->setObjectName("skip");
  skip_->hide();
  connect(SetNext(tr("Skip")), &QPushButton::clicked, this, [this] { emit Wanted(next_page_); });

  Live& live = context().live;
  connect(&live, &Live::Looked, this, &CardFacePage::OnLook);
  connect(&live, &Live::Failed, this, &CardFacePage::OnFailed);
  if (PrintIsMeasured(context().profile)) {
    Start();
  } else {
    RefusePrint();
  }
}

void CardFacePage::RefusePrint() {
  again_->hide();
  for (QWidget* part : {static_cast<QWidget*>(picture_), static_cast<QWidget*>(pictures_),
                        static_cast<QWidget*>(turned_)}) {
    part->hide();
  }
  Say(tr("The printed card was not measured"),
      tr("A print at 94 % makes every length 6 % too large. Measuring it takes a ruler or a bank "
         "card and half a minute. Without it every length counts as known to 4 % only, and your "
         "profile says so."));
  unchecked_->show();
  skip_->show();
  next_page_ = PageId::kCardPrint;
  SetNext(tr("Measure the print"))->setFocus();
}

QString CardFacePage::WhatToDo() {
  return tr(
      "Lay the printed card flat on your forehead, pattern to the camera, eyes free. Look "
      "into the lens and turn your head slowly to one side and to the other.");
}

CardFacePage::~CardFacePage() { context().live.Stop(); }

void CardFacePage::Say(const QString& headline, const QString& line) {
  headline_->setText(headline);
  line_->setText(line);
  line_->setToolTip(QString());
}

void CardFacePage::Start() {
  unchecked_->hide();
  skip_->hide();
  next_page_ = PageId::kCard;
  again_->show();
  for (QWidget* part : {static_cast<QWidget*>(picture_), static_cast<QWidget*>(pictures_),
                        static_cast<QWidget*>(turned_)}) {
    part->show();
  }
  views_ = FaceViews();
  unusual_.reset();
  keep_->hide();
  pictures_->setValue(0);
  turned_->setValue(0);
  SetNext(tr("Skip"));
  picture_->Clear();
  picture_->SetWord(tr("The camera is starting ..."));
  Say(QString(), look::IsLarge() ? WhatToDo() : QString());
  camera_ = context().profile.camera;
  collecting_ = true;
  context().live.StartCard(context().open_card_source(context(), CardTask::kFace), CardTask::kFace);
}

void CardFacePage::OnLook(const CardLook& look) {
  if (!collecting_) return;
  picture_->SetImage(look.preview);
  QPolygonF outline;
  for (const Eigen::Vector2d& at : look.outline) outline << QPointF(at.x(), at.y());
  picture_->SetOutline(outline);
  if (look.face.view) views_.Add(*look.face.view, look.face.turn_deg);
  pictures_->setValue(std::min(static_cast<int>(views_.count()), pictures_->maximum()));
  turned_->setValue(std::min(static_cast<int>(views_.TurnedDeg()), turned_->maximum()));
  if (views_.Enough()) {
    Fit();
    return;
  }
  if (look.preview.isNull()) return;  // words change as rarely as the picture does
  if (look.face.why) {
    Say(tr("Not yet"), words::FaceNow(look.face));
  } else if (views_.TurnedDeg() < FaceViews::kEnoughTurnDeg) {
    Say(tr("✓ Good"), tr("Now turn your head slowly to both sides, the card resting on it."));
  } else {
    Say(tr("✓ Good"), tr("Go on until both bars are full."));
  }
}

void CardFacePage::Fit() {
  collecting_ = false;
  context().live.Stop();
  picture_->SetOutline({});
  Say(tr("Thank you"), tr("One moment: the pictures are being compared."));
  FaceFitOptions options;
  const PrintScale print = PrintOf(context().profile);
  options.card_rel_sd = print.sd;
  options.card_scale = LengthFactor(print);
  background_.Run(
      this,
      [views = views_.Chosen(), camera = camera_, options] {
        return FitFaceScale(views, camera, options);
      },
      [this](const Result<FaceFit>& fit) { OnFitted(fit); });
}

void CardFacePage::OnFitted(const Result<FaceFit>& fit) {
  if (!fit) {
    Say(tr("That did not fit together"),
        fit.error().code == ErrorCode::kMismatch
            ? words::Refused(CameraFault::kUnevenPrint, CardKind::kPattern)
            : tr("Card and head must move as one: hold the card still on the skin, look into the "
                 "lens all the time, and repeat."));
    line_->setToolTip(words::Detail(fit.error()));
    again_->setFocus();
    return;
  }
  const auto doubts = FaceDoubts(fit->face, AgeOf(context()));
  if (doubts.empty()) {
    Keep(*fit);
    return;
  }
  QString all;
  for (const FaceDoubt& doubt : doubts) all += words::Doubt(doubt) + ' ';
  unusual_ = *fit;
  Say(tr("Please repeat it once"),
      all + tr("If it stays and the card is right, it can be kept: people differ."));
  keep_->show();
  again_->setFocus();
}

void CardFacePage::Keep(const FaceFit& fit) {
  Profile profile = context().profile;
  profile.face = NewScale(profile.face, fit.face, std::nullopt);
  profile.made.face =
      MeasuredNow(context(), "card on the face, " + std::to_string(fit.views_used) + " pictures" +
                                 (PrintIsMeasured(profile) ? "" : kPrintNotMeasured));
  if (profile.held_card) profile.held_card->zero.reset();  // it belonged to the scale before
  const auto kept = KeepCalibration(context(), profile);
  keep_->hide();
  Say(tr("✓ Your face is measured"),
      kept ? tr("Iris %1, pupils %2 apart, outer eye corners %3.")
                 .arg(Millimetres(fit.face.iris), Millimetres(fit.face.distance_pd),
                      Millimetres(fit.face.outer_corners))
           : words::ForError(kept.error()));
  SetNext(tr("Continue"))->setFocus();
}

void CardFacePage::OnFailed(const Error& error) {
  if (!collecting_) return;
  if (views_.count() >= kLeastViews) {
    Fit();  // a recording came to its end, or the camera was unplugged: there may be enough
    return;
  }
  collecting_ = false;
  picture_->Clear();
  picture_->SetWord(tr("no picture"));
  Say(words::SourceError(error), tr("You can go on and come back later."));
  line_->setToolTip(words::Detail(error));
}

}  // namespace nearpoint
