#include "app/window/pages/lag_page.h"

#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <chrono>

#include "app/guide/lag.h"
#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/percept.h"
#include "calibration/profile_json.h"

namespace nearpoint {
namespace {

constexpr int kRounds = 8;

double SteadyMs() {
  return std::chrono::duration<double, std::milli>(
             std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

}  // namespace

LagPage::LagPage(AppContext& the_context, QWidget* parent, std::function<double()> clock_ms)
    : Page(the_context, parent),
      clock_ms_(clock_ms ? std::move(clock_ms) : SteadyMs),
      random_(static_cast<unsigned>(clock_ms_()) | 1U) {
  SetStep(StepText(context(), PageId::kLag));
  SetHeading(tr("How fast is your hand?"));
  SetLead(
      tr("Between seeing two and pressing, some time passes. If it is known, it can be taken "
         "out of the result."));
  picture_ = new PerceptPicture(percept::Kind::kOne);
  picture_->SetSecret(true);
  body()->addWidget(picture_);
  says_ = parts::Text(
      tr("When the letter becomes two, press any key as fast as you can. %1 times.").arg(kRounds));
  says_->setFont(look::Large());
  says_->setAlignment(Qt::AlignHCenter);
  body()->addWidget(says_);
  begin_ = new QPushButton(tr("Begin"));
  begin_->setObjectName("begin");
  begin_->setProperty("role", "choice");
  begin_->setFont(look::Large());
  begin_->setAutoDefault(true);
  body()->addWidget(begin_, 0, Qt::AlignHCenter);
  body()->addStretch(1);
  connect(begin_, &QPushButton::clicked, this, &LagPage::Begin);
  timer_.setSingleShot(true);
  timer_.setTimerType(Qt::PreciseTimer);
  connect(&timer_, &QTimer::timeout, this, &LagPage::Show);

  next_ = SetNext(tr("Skip"), After(context(), PageId::kLag));
  body()->addWidget(parts::Text(
      tr("Skipped: the time of young adults, about a third of a second, is used. Less exact by "
         "about 1 to 2 mm."),
      "quiet"));
  if (context().first_run) AddAside(tr("Back"), WayOut());
  begin_->setFocus();
}

PageId LagPage::WayOut() const { return Before(context(), PageId::kLag); }

void LagPage::Begin() {
  times_ms_.clear();
  running_ = true;
  begin_->setEnabled(false);
  next_->setEnabled(false);
  Wait();
}

void LagPage::Wait() {
  shown_ = false;
  picture_->SetKind(percept::Kind::kOne);
  // Not to be guessed: one to three seconds.
  timer_.start(1000 + static_cast<int>(random_() / 7 % 2000));
}

void LagPage::Show() {
  shown_ = true;
  picture_->SetKind(percept::Kind::kTwo);
  picture_->repaint();  // seen from now on, not from the next round of events
  shown_at_ms_ = clock_ms_();
}

void LagPage::TakePress() {
  if (!running_) return;
  if (!shown_) {
    says_->setText(tr("Too early. Wait for two."));
    Wait();
    return;
  }
  times_ms_.push_back(clock_ms_() - shown_at_ms_);
  says_->setText(tr("%1 of %2").arg(times_ms_.size()).arg(kRounds));
  if (static_cast<int>(times_ms_.size()) >= kRounds) {
    Finish();
  } else {
    Wait();
  }
}

void LagPage::Finish() {
  running_ = false;
  timer_.stop();
  picture_->SetKind(percept::Kind::kOne);
  begin_->setEnabled(true);
  next_->setEnabled(true);
  next_->setText(context().first_run ? tr("Continue") : tr("Done"));
  const auto lag = LagFromTimes(times_ms_);
  if (!lag) {
    says_->setText(
        tr("These times are too different from each other. Please try once more, or "
           "skip."));
    return;
  }
  context().profile.lag = lag->mean;
  context().profile.lag_sd = lag->sd;
  if (context().person) {
    const auto kept =
        context().store.AddCalibration(context().person->id, SerializeProfile(context().profile));
    if (!kept) {
      says_->setText(QString::fromStdString(kept.error().message));
      return;
    }
  }
  says_->setText(tr("✓ About %1 seconds. That is taken into account from now on.")
                     .arg(QLocale().toString(ToSeconds(lag->mean), 'f', 2)));
  next_->setFocus();
}

}  // namespace nearpoint
