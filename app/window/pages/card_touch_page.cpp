#include "app/window/pages/card_touch_page.h"

#include <QBoxLayout>
#include <QFrame>
#include <QLabel>
#include <QLocale>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/keep_calibration.h"
#include "app/window/live_picture.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"
#include "calibration/print_scale.h"

namespace nearpoint {
namespace {

constexpr Time kLooked = std::chrono::seconds(1);
// After the key: the card must rest for a second, and nobody is quite still at once.
constexpr Time kRested = FromMilliseconds(2500);
// Nobody takes longer from arm's length to the nose.
constexpr std::size_t kMostSamples = 3000;

// 0 at arm's length, 1 at the nose.
double ToneHeight(Length before) {
  constexpr double kFar = 300;
  return (kFar - before.mm()) / (kFar - kTouchDepth.value.mm());
}

}  // namespace

CardTouchPage::CardTouchPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetHeading(tr("The touch of the nose"));
  const bool large = look::IsLarge();
  if (large) {
    HideHeading();
  } else {
    SetLead(
        tr("Only for a card that you bring to your nose: there its distance is known, and what is "
           "wrong alike in all distances can be taken away."));
  }
  auto* row = parts::NewRow();
  picture_ = new LivePicture();
  picture_->setMinimumHeight(look::Art(250));
  QFrame* const card = parts::Card(QString());
  headline_ = parts::Text(QString());
  headline_->setFont(look::Large());
  line_ = parts::Text(QString());
  now_ = parts::Text(QString(), "quiet");
  for (QLabel* part : {headline_, large ? now_ : line_, large ? line_ : now_}) {
    parts::LayoutOf(card)->addWidget(part);
  }
  parts::LayoutOf(card)->addStretch(1);
  row->addWidget(large ? static_cast<QWidget*>(card) : picture_, large ? 2 : 3);
  row->addWidget(large ? static_cast<QWidget*>(picture_) : card, large ? 3 : 2);
  body()->addLayout(row);
  body()->addWidget(parts::Text(
      tr("Skipped, a distance to the card may be wrong by 5 mm for each per cent by which the "
         "scale of your face is: 5 mm with a measured face, 20 mm without. No picture is kept."),
      "quiet"));
  body()->addStretch(1);
  again_ = AddAside(tr("From the beginning"));
  again_->setObjectName("again");
  connect(again_, &QPushButton::clicked, this, &CardTouchPage::Start);
  unchecked_ = AddAside(tr("Go on without measuring it"));
  unchecked_->setObjectName("unchecked");
  unchecked_->hide();
  connect(unchecked_, &QPushButton::clicked, this, &CardTouchPage::Start);
  skip_ = AddAside(tr("Skip"), PageId::kCard);
  skip_->setObjectName("skip");
  skip_->hide();
  connect(SetNext(tr("Skip")), &QPushButton::clicked, this, [this] { emit Wanted(next_page_); });
  Live& live = context().live;
  connect(&live, &Live::Looked, this, &CardTouchPage::OnLook);
  connect(&live, &Live::Failed, this, &CardTouchPage::OnFailed);
  if (PrintIsMeasured(context().profile)) {
    Start();
  } else {
    RefusePrint();
  }
}

CardTouchPage::~CardTouchPage() {
  context().live.Stop();
  context().sound.SetPace(PaceTone::kSilent, 0);
}

void CardTouchPage::Say(const QString& headline, const QString& line, const QString& spoken) {
  headline_->setText(headline);
  line_->setText(line);
  line_->setToolTip(QString());
  now_->clear();
  if (!spoken.isEmpty()) context().sound.Say(spoken);
}

void CardTouchPage::RefusePrint() {
  for (QWidget* part : {static_cast<QWidget*>(again_), static_cast<QWidget*>(picture_),
                        static_cast<QWidget*>(now_)}) {
    part->hide();
  }
  Say(tr("The printed card was not measured"),
      tr("A print at 94 % makes every length 6 % too large, also after the touch. Measuring it "
         "takes "
         "a ruler or a bank card and half a minute. Without it every distance to the card counts "
         "as known to 4 % only: 3 mm at 8 cm."),
      QString());
  unchecked_->show();
  skip_->show();
  next_page_ = PageId::kCardPrint;
  SetNext(tr("Measure the print"))->setFocus();
}

void CardTouchPage::Start() {
  unchecked_->hide();
  skip_->hide();
  if (look::IsLarge()) FillWindow();
  next_page_ = PageId::kCard;
  for (QWidget* part : {static_cast<QWidget*>(again_), static_cast<QWidget*>(picture_),
                        static_cast<QWidget*>(now_)}) {
    part->show();
  }
  samples_.clear();
  options_ = TouchOptions();
  SetNext(tr("Skip"));
  picture_->Clear();
  picture_->SetWord(tr("The camera is starting ..."));
  Enter(Stage::kEyes);
  context().live.StartCard(context().open_card_source(context(), CardTask::kTouch),
                           CardTask::kTouch);
}

void CardTouchPage::Enter(Stage stage) {
  const bool forward = stage > stage_ && stage_ != Stage::kPrint && stage != Stage::kOver;
  stage_ = stage;
  seen_since_.reset();
  if (forward) context().sound.PlayHeard(false);
  switch (stage) {
    case Stage::kEyes:
      Say(tr("1. Without the card"), tr("Look into the lens, the card out of the picture."),
          tr("Look into the lens, without the card."));
      return;
    case Stage::kHoldUp:
      Say(tr("2. Hold the card up"),
          tr("Below your eyes, at arm's length, its pattern to the camera."),
          tr("Now hold the card up below your eyes, at arm's length."));
      return;
    case Stage::kBring: {
      const QString brief =
          tr("Now lay its upper edge on the bridge of your nose. Any key when it rests.");
      Say(tr("3. Lay it on your nose"),
          look::IsLarge()
              ? brief
              : tr("Bring the card slowly to your face, lay its upper edge on the bridge of your "
                   "nose, and press any key when it rests there."),
          brief);
      return;
    }
    case Stage::kRest:
      Say(tr("Keep it there"), tr("Still, until you hear the tone end."), tr("Keep it there."));
      return;
    case Stage::kPrint:
    case Stage::kOver:
      context().live.Stop();
      context().sound.SetPace(PaceTone::kSilent, 0);
      return;
  }
}

bool CardTouchPage::SeenForASecond(bool seen, Time now) {
  if (!seen) {
    seen_since_.reset();
    return false;
  }
  if (!seen_since_) seen_since_ = now;
  return now - *seen_since_ >= kLooked;
}

void CardTouchPage::OnLook(const CardLook& look) {
  if (stage_ == Stage::kOver || stage_ == Stage::kPrint) return;
  picture_->SetImage(look.preview);
  last_ = look.time;
  const bool card = look.touch.has_value();
  if (card && samples_.size() < kMostSamples) samples_.push_back(*look.touch);
  if (look.lost == LostReason::kTooDark) ++options_.too_dark;
  if (stage_ != Stage::kEyes) {
    context().sound.SetPace(card ? PaceTone::kGood : PaceTone::kSilent,
                            card ? ToneHeight(look.touch->before) : 0);
  }
  if (!look.preview.isNull()) {  // words change as rarely as the picture does
    const bool eyes_wanted = stage_ == Stage::kEyes;
    if (card) {
      now_->setText(eyes_wanted ? tr("→ Take the card away first.")
                                : tr("✓ Card and eyes are seen."));
    } else if (eyes_wanted && look.lost == LostReason::kNoCard) {
      now_->setText(tr("✓ Your eyes are seen."));
    } else if (look.lost) {
      now_->setText(QStringLiteral("→ ") + words::Lost(*look.lost));
    }
  }
  switch (stage_) {
    case Stage::kEyes:
      if (SeenForASecond(!card && look.lost == LostReason::kNoCard, look.time)) {
        samples_.clear();
        options_ = TouchOptions();
        Enter(Stage::kHoldUp);
      }
      return;
    case Stage::kHoldUp:
      if (SeenForASecond(card, look.time)) Enter(Stage::kBring);
      return;
    case Stage::kRest:
      if (look.time - pressed_ >= kRested) Measure();
      return;
    case Stage::kPrint:
    case Stage::kBring:
    case Stage::kOver:
      return;
  }
}

void CardTouchPage::TakePress() {
  if (stage_ != Stage::kBring) return;
  pressed_ = last_;
  Enter(Stage::kRest);
}

void CardTouchPage::Refuse(const Error& error) {
  context().sound.PlayHeard(true);
  QString what = tr("That did not work");
  QString again =
      tr("Once more: hold the card up first, then lay it on the bridge of your "
         "nose, press, and keep it there for two seconds, in good light.");
  if (error.code == ErrorCode::kMismatch) {
    what = tr("This card has another shape");
    again =
        tr("Its pattern is stretched, or the card is not the one of the sheet. Print the sheet at "
           "100 %, not fitted to the page, and make the card from it.");
  } else if (TooDark(samples_, options_)) {
    what = tr("It is too dark");
    again =
        tr("The camera sees your eyes too poorly. Put more light on your face, from the front, and "
           "begin again.");
  }
  Say(what, again, what + QStringLiteral(". ") + again);
  line_->setToolTip(words::Detail(error));
  again_->setFocus();
}

void CardTouchPage::Measure() {
  Enter(Stage::kOver);
  const auto zero = ZeroFromTouch(samples_, kTouchDepth.value, kTouchDepth.sd, options_);
  if (!zero) {
    Refuse(zero.error());
    return;
  }
  context().sound.PlayHeard(false);
  Profile profile = context().profile;
  profile.held_card = profile.held_card.value_or(HeldCardSetup{});
  profile.held_card->zero = *zero;
  const auto kept = KeepCalibration(context(), profile);
  const QString known = tr("A distance to the card is now known to %1 mm.")
                            .arg(QLocale().toString(zero->sd.mm(), 'f', 0));
  const QString print = PrintIsMeasured(profile)
                            ? QString()
                            : ' ' + tr("The print was not measured, so 4 % of it comes on top.");
  Say(tr("✓ The touch is measured"), kept ? known + print : words::ForError(kept.error()),
      tr("Thank you. You can take the card away."));
  SetNext(tr("Continue"))->setFocus();
}

void CardTouchPage::OnFailed(const Error& error) {
  if (stage_ == Stage::kOver || stage_ == Stage::kPrint) return;
  Enter(Stage::kOver);
  picture_->Clear();
  picture_->SetWord(tr("no picture"));
  const QString what = words::SourceError(error);
  Say(what, tr("You can go on and come back later."), what);
  line_->setToolTip(words::Detail(error));
}

}  // namespace nearpoint
