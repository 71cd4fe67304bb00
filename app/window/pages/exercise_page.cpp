#include "app/window/pages/exercise_page.h"

#include <QApplication>
#include <QKeyEvent>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QTimer>
#include <QVBoxLayout>

#include "app/live/open_camera.h"
#include "app/window/app_context.h"
#include "app/window/exercise/days.h"
#include "app/window/exercise/exercise_after.h"
#include "app/window/exercise/exercise_before.h"
#include "app/window/exercise/exercise_words.h"
#include "app/window/exercise/pair_stage.h"
#include "app/window/exercise/repetition_row.h"
#include "app/window/exercise/save_sheet.h"
#include "app/window/exercise/screen_card.h"
#include "app/window/exercise/todays_reminder.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/safety_gate.h"
#include "app/window/safety_words.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {

constexpr int kPracticeFrameMs = 33;
constexpr Time kSayAgain = FromMilliseconds(6000);

Day Today(const Store& store) { return ToDay(store.Now().toLocalTime().date()); }

}  // namespace

ExercisePage::ExercisePage(AppContext& the_context, QWidget* parent, Feed feed)
    : Page(the_context, parent),
      feed_(feed),
      session_(context(), Today(context().store)),
      guard_(this, context().ticks) {
  SetHeading(tr("Exercise"));
  FillWindow();
  trouble_ = parts::Text(QString(), "stop");
  trouble_->setObjectName("trouble");
  trouble_->hide();
  body()->addWidget(trouble_);
  MakeBefore();
  MakeScreen();
  MakeRunning();

  next_ = SetNext(tr("Begin"));
  next_->setObjectName("next");
  connect(next_, &QPushButton::clicked, this, &ExercisePage::Next);
  AddStageAside(Stage::kBefore, "back", tr("Back"), &ExercisePage::Leave);
  AddStageAside(Stage::kScreen, "skip",
                tr("Skip: it may be %1 % too large or too small").arg(kStatedPercent),
                &ExercisePage::SkipScreen);
  AddStageAside(Stage::kRunning, "stop", tr("Stop (Esc)"), &ExercisePage::StopEarly);
  AddStageAside(Stage::kRunning, "mark", tr("A mark is missing (M)"), &ExercisePage::MarkMissing);
  AddStageAside(Stage::kBroken, "end", tr("End for today"), &ExercisePage::StopEarly);
  AddStageAside(Stage::kAfter, "leave", tr("Back to the start"), &ExercisePage::Leave);

  Live& live = context().live;
  if (feed_ == Feed::kOwn) {
    connect(&live, &Live::FrameArrived, this,
            [this](const LiveFrame& frame) { OnSample(frame.sample); });
    connect(&live, &Live::Failed, this, &ExercisePage::OnFailed);
  }
  if (session_.error()) {
    trouble_->setText(words::ForError(*session_.error()));
    trouble_->show();
  }
  RefreshPlan();
  Go(Stage::kBefore);
  // After the window's own filter, so that it is asked before that.
  QTimer::singleShot(0, this, [this] { qApp->installEventFilter(this); });
}

ExercisePage::~ExercisePage() {
  qApp->removeEventFilter(this);
  if (stage_ == Stage::kRunning || stage_ == Stage::kBroken) session_.Interrupt();
  if (!ended_) session_.End(QString());
  context().live.Stop();
  context().sound.SetPace(PaceTone::kSilent, 0);
}

void ExercisePage::AddStageAside(Stage stage, const QString& name, const QString& text,
                                 void (ExercisePage::*act)()) {
  QPushButton* const button = AddAside(text);
  button->setObjectName(name);
  if (stage == Stage::kRunning) button->setFocusPolicy(Qt::NoFocus);
  connect(button, &QPushButton::clicked, this, act);
  asides_.emplace_back(stage, button);
}

void ExercisePage::MakeBefore() {
  before_ = new ExerciseBefore();
  connect(before_, &ExerciseBefore::Easier, this, [this] { OtherLevel(-1); });
  connect(before_, &ExerciseBefore::Harder, this, [this] { OtherLevel(1); });
  connect(before_, &ExerciseBefore::ScreenWanted, this, [this] { Go(Stage::kScreen); });
  connect(before_, &ExerciseBefore::SheetWanted, this, &ExercisePage::PrintSheet);
  body()->addWidget(before_, 1);
}

void ExercisePage::MakeScreen() {
  screen_ = new QWidget();
  auto* column = new QVBoxLayout(screen_);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(look::Px(14));
  column->addWidget(parts::BigText(tr("How large is this screen?"), look::Heading()));
  column->addWidget(
      parts::BigText(tr("Hold a bank card against the screen and make the outline as large as "
                        "the card with the arrow keys. Then press Return."),
                     look::Large()));
  card_ = new ScreenCard(DotSizeOf(*this, context().store).mm_per_dot);
  connect(card_, &ScreenCard::Fits, this, &ExercisePage::Next);
  column->addWidget(card_, 1);
  body()->addWidget(screen_, 1);
}

void ExercisePage::MakeRunning() {
  running_ = new QWidget();
  auto* column = new QVBoxLayout(running_);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(look::Px(8));
  pair_stage_ = new PairStage();
  connect(pair_stage_, &PairStage::Resized, this, [this] {
    if (stage_ == Stage::kRunning) UpdateSurface();
  });
  column->addWidget(pair_stage_, 1);
  QFont prompt = look::Heading();
  prompt.setPointSizeF(prompt.pointSizeF() * 0.8);
  large_ = parts::BigText(QString(), prompt);
  large_->setObjectName("prompt");
  large_->setAlignment(Qt::AlignHCenter);
  column->addWidget(large_);
  line_ = parts::Text(QString());
  line_->setObjectName("line");
  line_->setAlignment(Qt::AlignHCenter);
  column->addWidget(line_);
  warning_ = parts::BigText(QString(), look::Large(), "warm");
  warning_->setObjectName("warning");
  column->addWidget(warning_);
  repetitions_ = new RepetitionRow();
  column->addWidget(repetitions_);
  body()->addWidget(running_, 1);
}

void ExercisePage::Go(Stage stage) {
  stage_ = stage;
  before_->setVisible(stage == Stage::kBefore);
  screen_->setVisible(stage == Stage::kScreen);
  running_->setVisible(stage == Stage::kRunning || stage == Stage::kBroken);
  for (const auto& [of, button] : asides_) button->setVisible(of == stage);
  next_->setVisible(stage == Stage::kBefore || stage == Stage::kScreen || stage == Stage::kBroken);
  switch (stage) {
    case Stage::kBefore:
      next_->setText(tr("Begin"));
      next_->setFocus();
      break;
    case Stage::kScreen:
      next_->setText(tr("It fits"));
      card_->setFocus();
      break;
    case Stage::kBroken:
      next_->setText(tr("Go on"));
      next_->setFocus();
      break;
    case Stage::kRunning:
    case Stage::kAfter:
      break;
  }
  next_->setAccessibleName(next_->text());
  // All answers are to be in view, whatever the size of the text; leaving without one is Escape.
  ShowFooter(stage != Stage::kAfter);
  ScrollToTop();
}

void ExercisePage::ShowFooter(bool shown) { findChild<QWidget*>("footer")->setVisible(shown); }

void ExercisePage::ScrollToTop() {
  // Once everything has its new place.
  QTimer::singleShot(0, this, [this] {
    if (auto* scroll = findChild<QScrollArea*>()) scroll->verticalScrollBar()->setValue(0);
  });
}

void ExercisePage::RefreshPlan() {
  before_->SetPlan(session_.plan(), session_.level(), TodaysReminder(context()));
  before_->SetMeasured(DotSizeOf(*this, context().store).measured,
                       context().practice || context().profile.face.distance_pd.has_value());
}

void ExercisePage::OtherLevel(int step) {
  session_.ChangeLevel(session_.level() + step);
  RefreshPlan();
}

void ExercisePage::Next() {
  switch (stage_) {
    case Stage::kBefore:
      Begin();
      return;
    case Stage::kScreen:
      if (const auto kept = KeepDotSize(*this, card_->mm_per_dot(), context().store); !kept) {
        trouble_->setText(words::ForError(kept.error()));
        trouble_->show();
        return;
      }
      Run();
      return;
    case Stage::kBroken:
      Run();
      return;
    case Stage::kRunning:
    case Stage::kAfter:
      return;
  }
}

void ExercisePage::Begin() {
  if (DotSizeOf(*this, context().store).measured || context().practice) {
    Run();
  } else {
    Go(Stage::kScreen);
  }
}

void ExercisePage::SkipScreen() {
  if (DotSizeOf(*this, context().store).mm_per_dot <= 0) {
    trouble_->setText(tr("This screen does not say how large it is, so a card is needed."));
    trouble_->show();
    return;
  }
  Run();
}

void ExercisePage::Run() {
  if (!session_.error()) trouble_->hide();
  pair_stage_->show();
  Go(Stage::kRunning);
  setFocus();
  UpdateSurface();
  said_phase_.reset();
  if (feed_ == Feed::kOwn && context().practice) {
    clock_.start();
    timer_ = std::make_unique<QTimer>();
    connect(timer_.get(), &QTimer::timeout, this, [this] {
      std::optional<Angle> asked;
      if (session_.pair()) asked = session_.pair()->angle;
      const CounterPhase phase =
          session_.counter() ? session_.counter()->phase() : CounterPhase::kLookFar;
      OnSample(practice_eyes_.At(Now(), phase, asked));
      pair_stage_->SetPercept(practice_eyes_.sees_one());
    });
    timer_->start(kPracticeFrameMs);
  } else if (feed_ == Feed::kOwn) {
    context().live.Start(OpenCamera(context().camera.toStdString(), session_.TrackerProfile(),
                                    context().calibrated, session_.Tracking()));
  }
  Refresh();
}

Time ExercisePage::Now() const {
  if (feed_ == Feed::kGiven) return last_sample_;
  if (context().practice) {
    return clock_.isValid() ? FromMilliseconds(static_cast<double>(clock_.elapsed())) : Time{};
  }
  return context().live.Now();
}

void ExercisePage::UpdateSurface() {
  const DotSize scale = DotSizeOf(*this, context().store);
  const double dots = pair_stage_->width() * devicePixelRatioF();
  session_.SetSurface({scale.mm_per_dot, Length::Millimeters(dots * scale.mm_per_dot)},
                      scale.relative_sd);
}

void ExercisePage::OnSample(const DistanceSample& sample) {
  if (stage_ != Stage::kRunning) return;
  last_sample_ = sample.time;
  Heard(session_.OnSample(sample));
}

void ExercisePage::TakePress() {
  if (stage_ != Stage::kRunning || session_.counter() == nullptr) return;
  const bool one = session_.counter()->reported();
  const CounterPhase phase = session_.counter()->phase();
  if (phase == CounterPhase::kLookFar || phase == CounterPhase::kDone) return;
  context().sound.PlayHeard(one);
  Heard(session_.OnReport(one ? FusionReport::kApart : FusionReport::kFused, Now()));
}

void ExercisePage::MarkMissing() {
  if (stage_ != Stage::kRunning) return;
  Heard(session_.OnReport(FusionReport::kMarkMissing, Now()));
}

void ExercisePage::Heard(const CounterUpdate& update) {
  if (update.finished) {
    if (update.finished->counted()) {
      warning_->setText(
          tr("Counted: held for %1 s.").arg(QLocale().toString(update.finished->held_s, 'f', 1)));
    } else {
      warning_->setText(words::ForNotCounted(*update.finished));
      context().sound.Say(warning_->text());
    }
    SayTiredness();
    // What came of it stands for a while, also after a warning that went with its cause.
    said_warning_.reset();
    warned_at_ = last_sample_;
  }
  Refresh();
  if (session_.counter() != nullptr && session_.counter()->phase() == CounterPhase::kDone) {
    Finish();
  }
}

// Once, while it can still be heeded.
void ExercisePage::SayTiredness() {
  if (said_tired_) return;
  const Tiredness found = FindTiredness(session_.attempts());
  if (!found.tired && !found.failing) return;
  said_tired_ = true;
  const QString tired =
      tr("Your eyes seem to tire. A rest is better than more of it: Escape ends it for today.");
  warning_->setText(warning_->text() + ' ' + tired);
  context().sound.Say(tired);
}

void ExercisePage::Refresh() {
  const RepetitionCounter* const counter = session_.counter();
  std::optional<CounterPhase> phase;
  if (counter != nullptr) phase = counter->phase();
  const bool reported = counter != nullptr && counter->reported();
  const words::ExercisePrompt prompt = words::ForExercise(phase, reported);
  large_->setText(prompt.large);
  line_->setText(prompt.line);
  if (session_.error()) {
    trouble_->setText(words::ForError(*session_.error()));
    trouble_->show();
  }
  if (!session_.trouble().empty()) {
    trouble_->setText(
        tr("None of the pairs of your plan can be shown here from where you sit. Make the window "
           "larger, or sit about 50 cm from the screen."));
    trouble_->show();
  } else if (!session_.error()) {
    trouble_->hide();
  }
  if (session_.pair()) {
    pair_stage_->SetPair(session_.pair()->separation_dots, session_.figure_dots());
  }
  const bool pair = phase == CounterPhase::kBringNear || phase == CounterPhase::kHold;
  pair_stage_->Show(!phase ? StageShows::kNothing : pair ? StageShows::kPair : StageShows::kMark);
  const double hold = counter != nullptr ? counter->held_s() / session_.plan().hold_s : 0;
  repetitions_->Set(counter != nullptr ? counter->counted() : 0, session_.plan().repetitions, hold);
  context().sound.SetPace(
      phase == CounterPhase::kHold && hold > 0 ? PaceTone::kGood : PaceTone::kSilent, hold);

  const auto warning = counter != nullptr ? counter->warning() : std::nullopt;
  if (warning) {
    warning_->setText(words::ForWarning(*warning));
    if (warning != said_warning_ || last_sample_ - warned_at_ > kSayAgain) {
      context().sound.Say(warning_->text());
      warned_at_ = last_sample_;
    }
  } else if (said_warning_ || last_sample_ - warned_at_ > kSayAgain) {
    warning_->setText(QString());
  }
  said_warning_ = warning;
  // One of the two, so that a small window has room for the pair.
  warning_->setVisible(!warning_->text().isEmpty());
  line_->setVisible(warning_->text().isEmpty() && !line_->text().isEmpty());
  large_->setVisible(!warning);
  // What came of the last one stands beside what is to be done now.
  warning_->setFont(warning ? look::Large() : look::Body());

  if (phase != said_phase_) {
    said_phase_ = phase;
    if (!prompt.spoken.isEmpty()) context().sound.Say(prompt.spoken);
  }
}

void ExercisePage::OnFailed(const Error& error) {
  if (stage_ != Stage::kRunning) return;
  session_.Interrupt();
  context().sound.SetPace(PaceTone::kSilent, 0);
  Go(Stage::kBroken);
  warning_->hide();
  line_->show();
  large_->show();
  large_->setText(tr("The camera stopped"));
  line_->setText(tr("What is counted is safe. Plug the camera in and choose \"Go on\"."));
  pair_stage_->Show(StageShows::kNothing);
  pair_stage_->hide();
  trouble_->setText(words::SourceError(error));
  trouble_->show();
}

void ExercisePage::StopEarly() {
  session_.Interrupt();
  if (session_.attempts().empty()) {
    Leave();
    return;
  }
  Finish();
}

void ExercisePage::Finish() {
  timer_.reset();
  if (feed_ == Feed::kOwn) context().live.Stop();
  context().sound.SetPace(PaceTone::kSilent, 0);
  Go(Stage::kAfter);
  after_ = new ExerciseAfter(session_.summary(), context().practice);
  connect(after_, &ExerciseAfter::Answered, this, &ExercisePage::Answer);
  body()->addWidget(after_, 1);
  // The last key of the exercise is no answer, and none is chosen beforehand.
  setFocus();
  guard_.Begin(AnswerGuard::kAfterKeys);
}

void ExercisePage::Leave() { emit Wanted(PageId::kHome); }

void ExercisePage::Answer(const QString& comfort) {
  HeedComfort(context(), comfort);
  session_.End(comfort);
  ended_ = true;
  if (IsTroubleWord(comfort)) {
    after_->HideQuestion();
    ShowFooter(true);
    findChild<QPushButton*>("leave")->setFocus();
    ScrollToTop();
    trouble_->setText(
        tr("Do not exercise on.") + ' ' +
        (comfort == "double" ? words::DoubleVision() : words::OtherSigns()) + ' ' +
        tr("Tell your eye-care professional in any case. Before the next exercise you are asked "
           "whom you have asked."));
    trouble_->show();
    return;
  }
  emit Wanted(PageId::kDiary);
}

void ExercisePage::PrintSheet() {
  const auto saved = SaveExerciseSheet(this, session_.plan(), session_.view().pupils);
  if (saved) return;
  trouble_->setText(words::ForError(saved.error()));
  trouble_->show();
}

bool ExercisePage::eventFilter(QObject* watched, QEvent* event) {
  if (event->type() != QEvent::KeyPress) return Page::eventFilter(watched, event);
  const auto* widget = qobject_cast<QWidget*>(watched);
  if (widget == nullptr || widget->window() != window() || !isVisible()) return false;
  const auto* key = static_cast<QKeyEvent*>(event);
  if (key->isAutoRepeat()) return false;
  if (stage_ == Stage::kRunning && key->key() == Qt::Key_M) {
    MarkMissing();
    return true;
  }
  if ((stage_ == Stage::kRunning || stage_ == Stage::kBroken) && key->key() == Qt::Key_Escape &&
      !session_.attempts().empty()) {
    StopEarly();
    return true;
  }
  return false;
}

}  // namespace nearpoint
