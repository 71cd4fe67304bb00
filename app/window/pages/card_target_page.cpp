#include "app/window/pages/card_target_page.h"

#include <QFormLayout>
#include <QFrame>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/keep_calibration.h"
#include "app/window/length_box.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"
#include "calibration/screen.h"

namespace nearpoint {
namespace {

// A letter on the screen moves with its window.
constexpr double kWindowSdMm = 5;

QDoubleSpinBox* Millimetres(const QString& name, double least, double most, double value) {
  auto* box = new LengthBox();
  box->setRange(least, most);
  box->setValue(value);
  box->setAccessibleName(name);
  return box;
}

}  // namespace

CardTargetPage::CardTargetPage(AppContext& the_context, QWidget* parent)
    : Page(the_context, parent),
      on_screen_(context().store.Setting("target", "printed") == "screen") {
  SetStep(StepText(context(), PageId::kCard));
  SetHeading(tr("The place of the letter"));
  SetLead(on_screen_
              ? tr("The distance is measured to the letter on the screen. How far is it from the "
                   "lens?")
              : tr("The distance is measured to the printed letter. How far is it from the lens?"));
  QFrame* const card = parts::Card(QString());
  parts::LayoutOf(card)->addWidget(parts::Text(
      tr("Measure with a ruler from the middle of the lens to the middle of the letter. Without a "
         "ruler: a bank card is 54 mm high and 86 mm wide.")));
  const Eigen::Vector3d& now = context().profile.target_mm;
  auto* form = new QFormLayout();
  form->setRowWrapPolicy(QFormLayout::WrapLongRows);
  form->setHorizontalSpacing(look::Px(16));
  form->setVerticalSpacing(look::Px(12));
  const QString below = tr("Below the lens");
  const QString right = tr("To the right of the lens, as you see it (left: minus)");
  below_ = Millimetres(below, 3, 200, std::clamp(now.y(), 3.0, 200.0));
  below_->setObjectName("below");
  right_ = Millimetres(right, -200, 200, std::clamp(-now.x(), -200.0, 200.0));
  right_->setObjectName("right");
  form->addRow(parts::Text(below), below_);
  form->addRow(parts::Text(right), right_);
  parts::LayoutOf(card)->addLayout(form);
  auto* keep = new QPushButton(tr("Keep this"), card);
  keep->setObjectName("keep");
  keep->setProperty("role", "choice");
  keep->setFont(look::Large());
  keep->setAutoDefault(true);
  parts::LayoutOf(card)->addWidget(keep, 0, Qt::AlignLeft);
  says_ = parts::Text(tr("Skipped, some millimetres of every distance are a guess."), "quiet");
  parts::LayoutOf(card)->addWidget(says_);
  body()->addWidget(card);
  body()->addStretch(1);
  SetNext(tr("Skip"), PageId::kCard);
  connect(keep, &QPushButton::clicked, this, &CardTargetPage::Keep);
  below_->setFocus();
}

void CardTargetPage::Keep() {
  const auto place = TargetOnStrip(below_->value(), right_->value());
  if (!place) {  // the boxes hold what is possible
    says_->setText(words::ForError(place.error()));
    return;
  }
  Profile profile = context().profile;
  profile.target_mm = place->in_camera_mm;
  profile.target_sd =
      Length::Millimeters(on_screen_ ? std::max(place->sd_mm, kWindowSdMm) : place->sd_mm);
  profile.made.target =
      MeasuredNow(context(), on_screen_ ? "letter on the screen, by a ruler"
                                        : "printed letter under the lens, by a ruler");
  const auto kept = KeepCalibration(context(), profile);
  says_->setText(kept ? tr("✓ Kept: known to about %1 mm.")
                            .arg(QLocale().toString(profile.target_sd.mm(), 'f', 0))
                      : words::ForError(kept.error()));
  SetNext(tr("Continue"))->setFocus();
}

}  // namespace nearpoint
