#include "app/window/pages/card_camera_page.h"

#include <QBoxLayout>
#include <QComboBox>
#include <QFrame>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/card_tilt_drawing.h"
#include "app/window/card_words.h"
#include "app/window/keep_calibration.h"
#include "app/window/live_picture.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/profile_defaults.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {

constexpr int kLeastViews = 6;  // below, CalibrateCamera refuses

}  // namespace

CardCameraPage::CardCameraPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kCard));
  SetHeading(tr("The camera, by the card"));
  // Where the text is large, what changes comes first: nobody scrolls with a card in the hand.
  const bool large = look::IsLarge();
  if (!large) {
    SetLead(
        tr("Hold the card still before the camera, a hand's length away, each time in another "
           "tilt."));
    MakeChoice();
  }
  auto* row = parts::NewRow();
  picture_ = new LivePicture();
  picture_->setMinimumHeight(look::Art(250));
  QFrame* const card = parts::Card(QString());
  drawing_ = new CardTiltDrawing();
  headline_ = parts::Text(QString());
  headline_->setFont(look::Large());
  line_ = parts::Text(QString(), "quiet");
  progress_ = new QProgressBar();
  progress_->setRange(0, CameraGuidance().wanted);
  progress_->setFont(look::Body());
  progress_->setFormat(tr("%v of %m views"));
  progress_->setAccessibleName(tr("Views taken"));
  if (large) {
    HideHeading();
    auto* guidance = new QHBoxLayout();
    guidance->addWidget(drawing_, 2);
    headline_->setFont(look::Body());
    guidance->addWidget(headline_, 3);
    parts::LayoutOf(card)->addLayout(guidance);
    parts::LayoutOf(card)->addWidget(line_);
  } else {
    parts::LayoutOf(card)->addWidget(drawing_);
    parts::LayoutOf(card)->addWidget(headline_);
  }
  parts::LayoutOf(card)->addWidget(progress_);
  if (!large) parts::LayoutOf(card)->addWidget(line_);
  parts::LayoutOf(card)->addStretch(1);
  row->addWidget(large ? static_cast<QWidget*>(card) : picture_, large ? 2 : 3);
  row->addWidget(large ? static_cast<QWidget*>(picture_) : card, large ? 3 : 2);
  body()->addLayout(row);
  if (large) MakeChoice();
  body()->addWidget(
      parts::Text(tr("Skipped, every distance may be off by about 7 %: 6 mm at 8 cm."), "quiet"));
  body()->addStretch(1);

  enough_ = AddAside(tr("These views will do"));
  enough_->setObjectName("enough");
  again_ = AddAside(tr("From the beginning"));
  again_->setObjectName("again");
  connect(enough_, &QPushButton::clicked, this, &CardCameraPage::Adjust);
  connect(again_, &QPushButton::clicked, this, &CardCameraPage::Start);
  // The focus on what stands below would scroll the guidance out of sight.
  SetNext(tr("Skip"), PageId::kCard)->setFocus();

  Live& live = context().live;
  connect(&live, &Live::Started, this, &CardCameraPage::OnStarted);
  connect(&live, &Live::Looked, this, &CardCameraPage::OnLook);
  connect(&live, &Live::Failed, this, &CardCameraPage::OnFailed);
  Start();
}

CardCameraPage::~CardCameraPage() { context().live.Stop(); }

void CardCameraPage::MakeChoice() {
  auto* row = parts::NewRow();
  cards_ = parts::NewComboBox();
  cards_->setObjectName("cards");
  cards_->setAccessibleName(tr("Which card"));
  cards_->addItem(tr("The printed card (better)"));
  cards_->addItem(tr("A bank, health or library card"));
  row->addWidget(parts::Text(tr("Which card")));
  row->addWidget(cards_, 1);
  body()->addLayout(row);
  connect(cards_, &QComboBox::activated, this, [this](int index) {
    kind_ = index == 0 ? CardKind::kPattern : CardKind::kPlain;
    Start();
  });
}

void CardCameraPage::Say(const QString& headline, const QString& line) {
  headline_->setText(headline);
  line_->setText(line);
}

void CardCameraPage::Start() {
  views_.reset();
  enough_->setEnabled(false);
  progress_->setValue(0);
  SetNext(tr("Skip"));
  picture_->Clear();
  picture_->SetWord(tr("The camera is starting ..."));
  Say(QString(), QString());
  drawing_->SetTilt(std::nullopt);
  // The pictures of a camera that is measured anew may have any size.
  AppContext fresh = context();
  fresh.profile = DefaultProfile();
  fresh.calibrated = false;
  const CardTask task =
      kind_ == CardKind::kPattern ? CardTask::kPatternViews : CardTask::kPlainViews;
  context().live.StartCard(context().open_card_source(fresh, task), task);
}

void CardCameraPage::OnStarted() {
  const LiveFacts facts = context().live.facts();
  width_ = facts.profile.camera.width;
  height_ = facts.profile.camera.height;
  views_.emplace(width_, height_, true);
  ShowGuide(nullptr, ViewStep::kNoCard);
}

void CardCameraPage::OnLook(const CardLook& look) {
  if (!views_) return;
  picture_->SetImage(look.preview);
  QPolygonF outline;
  for (const Eigen::Vector2d& at : look.outline) outline << QPointF(at.x(), at.y());
  picture_->SetOutline(outline);
  const ViewStep step = views_->Offer(look.time, look.frame, look.card);
  if (step == ViewStep::kTaken && views_->Enough()) {
    Adjust();
    return;
  }
  // Words change as rarely as the picture does.
  if (!look.preview.isNull() || step == ViewStep::kTaken) ShowGuide(&look, step);
}

void CardCameraPage::ShowGuide(const CardLook* look, ViewStep step) {
  const CameraGuidance guide = views_->Guide();
  progress_->setValue(std::min(guide.views, guide.wanted));
  enough_->setEnabled(guide.views >= kLeastViews);
  drawing_->SetTilt(guide.tilts.empty() ? std::nullopt : std::optional(guide.tilts.front()));
  const auto part = std::ranges::find(guide.missing, true);
  const bool to_part = guide.tilts.empty() && part != guide.missing.end();
  picture_->SetWantedPart(to_part ? static_cast<int>(part - guide.missing.begin()) : -1);
  Say(words::NextView(guide), look != nullptr ? words::ViewNow(*look, step) : QString());
}

void CardCameraPage::Adjust() {
  if (!views_) return;
  context().live.Stop();
  enough_->setEnabled(false);
  picture_->SetWantedPart(-1);
  picture_->SetOutline({});
  Say(tr("Thank you"), tr("One moment: the views are being compared."));
  background_.Run(
      this,
      [views = views_->views(), width = width_, height = height_, kind = kind_] {
        return CalibrateCamera(views, width, height, kind);
      },
      [this](const Result<CameraCalibration>& result) { OnAdjusted(result); });
}

void CardCameraPage::OnAdjusted(const Result<CameraCalibration>& result) {
  drawing_->SetTilt(std::nullopt);
  if (!result || result->verdict == CameraVerdict::kRefused) {
    Say(tr("That did not work"),
        words::Refused(result ? result->fault : CameraFault::kFewViews, kind_));
    line_->setToolTip(QString::fromStdString(result ? result->reason : result.error().message));
    again_->setFocus();
    return;
  }
  Profile profile = context().profile;
  const bool moved = profile.made.camera && profile.made.target &&
                     profile.made.camera->device != DeviceOf(context());
  if (moved) {  // the letter was placed by another camera
    profile.target_mm = DefaultProfile().target_mm;
    profile.target_sd = DefaultProfile().target_sd;
    profile.made.target.reset();
  }
  profile.camera = result->adjustment.camera;
  profile.made.camera =
      MeasuredNow(context(), (kind_ == CardKind::kPattern ? "pattern card, " : "plain card, ") +
                                 std::to_string(views_->views().size()) + " views");
  const auto kept = KeepCalibration(context(), profile);
  const QString percent =
      QLocale().toString(100 * profile.camera.focal_rel_sd, 'f', 2) + QChar(0xa0) + '%';
  Say(tr("✓ The camera is measured"),
      !kept ? words::ForError(kept.error())
      : result->verdict == CameraVerdict::kGood
          ? tr("Its scale is known to %1.").arg(percent)
          : tr("Its scale is known to %1. More views in more tilts would sharpen it.")
                .arg(percent));
  QPushButton* const next = SetNext(tr("Continue"));
  next->setFocus();
}

void CardCameraPage::OnFailed(const Error& error) {
  if (!views_ || views_->views().size() < kLeastViews) {
    picture_->Clear();
    picture_->SetWord(tr("no picture"));
    Say(words::SourceError(error), tr("You can go on and come back later."));
    line_->setToolTip(words::Detail(error));
    return;
  }
  Adjust();  // a recording came to its end, or the camera was unplugged: there is enough
}

}  // namespace nearpoint
