#include "app/window/pages/lag_page.h"

#include <QLabel>
#include <QPushButton>
#include <QScreen>
#include <QVBoxLayout>
#include <algorithm>
#include <chrono>

#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/keep_calibration.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/percept.h"
#include "app/window/words.h"
#include "calibration/lag_task.h"
#include "calibration/pipeline_delay.h"

namespace nearpoint {
namespace {

constexpr int kRounds = kLagPresses;
// A webcam's usual rate: the lag is measured before a camera need be there.
constexpr double kFramesPerSecond = 30;

double SteadyMs() {
  return std::chrono::duration<double, std::milli>(
             std::chrono::steady_clock::now().time_since_epoch())
      .count();
}

}  // namespace

LagPage::LagPage(AppContext& the_context, QWidget* parent, std::function<double()> clock_ms)
    : Page(the_context, parent),
      clock_ms_(clock_ms ? std::move(clock_ms) : SteadyMs),
      task_(static_cast<std::uint64_t>(clock_ms_())) {
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
  connect(&timer_, &QTimer::timeout, this, [this] {
    if (task_.shown()) {
      Miss();
    } else {
      Show();
    }
  });

  next_ = SetNext(tr("Skip"), After(context(), PageId::kLag));
  delays_ =
      parts::Text(tr("Skipped: the time of young adults, about a third of a second, is used. Less "
                     "exact by about 1 to 2 mm."),
                  "quiet");
  body()->addWidget(delays_);
  if (context().first_run) AddAside(tr("Back"), WayOut());
  begin_->setFocus();
}

PageId LagPage::WayOut() const { return Before(context(), PageId::kLag); }

void LagPage::Begin() {
  task_ = ReactionTask(static_cast<std::uint64_t>(clock_ms_()));
  running_ = true;
  begin_->setEnabled(false);
  next_->setEnabled(false);
  Wait();
}

void LagPage::Wait() {
  picture_->SetKind(percept::Kind::kOne);
  timer_.start(static_cast<int>(ToMilliseconds(task_.wait())));
}

void LagPage::Next() {
  if (task_.done()) {
    Finish();
  } else {
    Wait();
  }
}

void LagPage::Show() {
  picture_->SetKind(percept::Kind::kTwo);
  picture_->repaint();  // seen from now on, not from the next round of events
  task_.Shown(FromMilliseconds(clock_ms_()));
  timer_.start(static_cast<int>(ToMilliseconds(ReactionTask::kPatience)));
}

void LagPage::Miss() {
  task_.Missed();
  says_->setText(tr("Too late. Press as soon as it is two."));
  Next();
}

void LagPage::TakePress() {
  if (!running_) return;
  if (task_.OnPress(FromMilliseconds(clock_ms_()))) {
    says_->setText(tr("%1 of %2").arg(task_.marks()).arg(kRounds));
  } else {
    says_->setText(tr("Too early. Wait for two."));
  }
  Next();
}

void LagPage::Finish() {
  running_ = false;
  timer_.stop();
  picture_->SetKind(percept::Kind::kOne);
  begin_->setEnabled(true);
  next_->setEnabled(true);
  next_->setText(context().first_run ? tr("Continue") : tr("Done"));
  const double refreshes = screen() != nullptr ? screen()->refreshRate() : 60;
  const auto pipeline = BoundPipelineDelay(std::clamp(refreshes, 10.0, 1000.0), kFramesPerSecond);
  const auto lag =
      pipeline ? EvaluateLag(task_.presses(), *pipeline) : tl::unexpected(pipeline.error());
  if (!lag) {
    says_->setText(
        tr("These times are too different from each other. Please try once more, or "
           "skip."));
    return;
  }
  Profile profile = context().profile;
  profile.lag = lag->lag;
  profile.lag_sd = lag->lag_sd;
  profile.made.lag =
      MeasuredNow(context(), "ten presses in the window; " + StatementInShort(*pipeline));
  if (const auto kept = KeepCalibration(context(), profile); !kept) {
    says_->setText(words::ForError(kept.error()));
    return;
  }
  const auto ms = [](Time time) { return QLocale().toString(ToMilliseconds(time), 'f', 0); };
  delays_->setText(
      tr("The computer is late too, and that was taken out: the screen by %1 ± %2 thousandths of a "
         "second, a camera of %5 pictures a second by %3 ± %4. Both are reckoned from their rates, "
         "not measured; what is unsure about them makes the band of your result wider.")
          .arg(ms(pipeline->display), ms(pipeline->display_sd), ms(pipeline->capture),
               ms(pipeline->capture_sd))
          .arg(kFramesPerSecond));
  const QString seconds = QLocale().toString(ToSeconds(lag->lag), 'f', 2);
  says_->setText(
      context().practice
          ? tr("✓ About %1 seconds. This is practice, so nothing of it is stored.").arg(seconds)
          : tr("✓ About %1 seconds. That is taken into account from now on.").arg(seconds));
  next_->setFocus();
}

}  // namespace nearpoint
