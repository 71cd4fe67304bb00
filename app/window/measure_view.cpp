#include "app/window/measure_view.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QScrollArea>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "app/window/live_picture.h"
#include "app/window/look.h"
#include "app/window/pace_guide.h"
#include "app/window/parts.h"
#include "app/window/percept.h"
#include "app/window/screen_letter.h"
#include "app/window/steps_drawing.h"
#include "app/window/trial_dots.h"

namespace nearpoint {
namespace {

// 21 points, growing to 32.
QFont LineFont() {
  QFont font = look::Large();
  font.setPointSizeF(std::min(font.pointSizeF() * 1.2, 32.0));
  return font;
}

}  // namespace

MeasureView::MeasureView(bool practice, const QString& target, double mm_per_dot, QWidget* parent)
    : QWidget(parent) {
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(0, 0, 0, 0);
  trouble_ = parts::Text(QString(), "stop");
  trouble_->hide();
  all->addWidget(trouble_);
  instructions_ = MakeInstructions(practice, target == "card");
  running_ = MakeRunning(practice, target, mm_per_dot);
  // One of the two is shown; the other takes no room.
  all->addWidget(instructions_, 1);
  all->addWidget(running_, 1);
  running_->hide();
}

QWidget* MeasureView::MakeInstructions(bool practice, bool card_comes) {
  auto* place = new QWidget();
  auto* column = new QVBoxLayout(place);
  column->setSpacing(look::Px(16));
  auto* head = parts::Text(practice ? tr("Practise: you press for the simulated person")
                                    : tr("How it goes"));
  head->setFont(look::Heading());
  column->addWidget(head);
  column->addWidget(
      new StepsDrawing(card_comes ? StepsDrawing::Moves::kCard : StepsDrawing::Moves::kHead));
  column->addStretch(1);
  const QString line =
      practice && card_comes
          ? tr("That person keeps still and brings the card to the nose. The picture beside the "
               "camera shows what is seen. Press any key when it becomes two, and again when it is "
               "one.")
      : practice
          ? tr("The picture beside the camera shows what that person sees. Press any key when "
               "it becomes two, and again when it is one.")
      : card_comes
          ? tr("Here your face stays and the card comes: hold it up, pattern to the camera, letter "
               "to your eyes, bring it slowly to your nose and back. Press any key as in the "
               "drawing. Escape stops at every moment.")
          : tr("A soft steady tone says the pace is right. Several rounds follow, with a rest "
               "between them. Escape stops at every moment.");
  auto* text = parts::Text(line);
  text->setFont(look::Large());
  column->addWidget(text);
  auto* begin = parts::Text(tr("Press any key, or click, to begin."), "soft");
  begin->setFont(look::Large());
  column->addWidget(begin);
  return place;
}

QWidget* MeasureView::MakeRunning(bool practice, const QString& target, double mm_per_dot) {
  auto* place = new QWidget();
  auto* column = new QVBoxLayout(place);
  column->setSpacing(look::Px(10));
  if (target == "screen" && !practice) {
    column->addWidget(new ScreenLetter(mm_per_dot), 0, Qt::AlignHCenter);
  }
  headline_ = new QLabel();
  headline_->setFont(look::Huge());
  headline_->setWordWrap(true);
  headline_->setAlignment(Qt::AlignHCenter | Qt::AlignBottom);
  line_ = new QLabel();
  line_->setFont(LineFont());
  line_->setWordWrap(true);
  line_->setAlignment(Qt::AlignHCenter);
  rest_ = new QLabel();
  rest_->setFont(look::Large());
  rest_->setAlignment(Qt::AlignHCenter);
  rest_->setWordWrap(true);
  detail_ = parts::Text(QString(), "quiet");
  detail_->setAlignment(Qt::AlignHCenter);
  column_ = column;
  above_ = column->count();
  column->addStretch(1);
  top_ = new QHBoxLayout();
  top_->addWidget(headline_, 1);
  column->addLayout(top_);
  column->addWidget(line_);
  column->addWidget(rest_);
  column->addWidget(detail_);
  below_ = column->count();
  column->addStretch(1);
  guide_ = new PaceGuide();
  // Hidden while nothing moves, without the words jumping about.
  QSizePolicy kept = guide_->sizePolicy();
  kept.setRetainSizeWhenHidden(true);
  guide_->setSizePolicy(kept);
  column->addWidget(guide_);

  auto* row = new QHBoxLayout();
  row->setSpacing(look::Px(16));
  dots_ = new TrialDots();
  heard_ = parts::Text(QString(), "soft");
  heard_->setWordWrap(false);
  heard_->hide();
  row->addWidget(dots_, 0, Qt::AlignBottom);
  row->addWidget(heard_, 0, Qt::AlignBottom);
  row->addStretch(1);
  if (practice) {
    percept_ = new PerceptPicture(percept::Kind::kOne);
    percept_->setFixedSize(look::Art(150), look::Art(104));
    sees_ = new QVBoxLayout();
    sees_->setSpacing(look::Px(2));
    caption_ = parts::Text(tr("that person sees"), "quiet");
    caption_->setWordWrap(false);
    caption_->setAlignment(Qt::AlignHCenter);
    sees_->addStretch(1);
    sees_->addWidget(caption_);
    sees_->addWidget(percept_, 0, Qt::AlignHCenter);
    row->addLayout(sees_);
  }
  preview_ = new LivePicture();
  preview_->setFixedSize(look::Art(232), look::Art(131));
  row->addWidget(preview_, 0, Qt::AlignBottom);
  column->addLayout(row);
  return place;
}

void MeasureView::ShowInstructions() {
  running_->hide();
  instructions_->show();
}

void MeasureView::ShowRunning() {
  instructions_->hide();
  running_->show();
  detail_->hide();
  guide_->show();
  preview_->Clear();
  broken_ = false;
  PlacePreview();
}

void MeasureView::ShowBroken(const words::Prompt& prompt, const QString& detail) {
  instructions_->hide();
  running_->show();
  SetPrompt(prompt);
  guide_->hide();
  heard_->hide();
  rest_->hide();
  detail_->setText(detail);
  detail_->show();
  broken_ = true;
  preview_->hide();
  FitHeight();
}

void MeasureView::ShowTrouble(const QString& sentence) {
  trouble_->setText(sentence);
  trouble_->show();
}

void MeasureView::SetPrompt(const words::Prompt& prompt) {
  if (headline_->text() == prompt.headline && line_->text() == prompt.line) return;
  headline_->setText(prompt.headline);
  line_->setText(prompt.line);
  setAccessibleName(prompt.headline);
  setAccessibleDescription(prompt.line);
}

void MeasureView::SetState(const FlowState& state) {
  guide_->SetState(state);
  const bool rest = state.phase == FlowPhase::kRest;
  rest_->setVisible(rest);
  finding_ = state.phase == FlowPhase::kFind;
  guide_->setVisible(!rest && state.phase != FlowPhase::kDone);
  FitHeight();
  if (rest) {
    const int seconds = static_cast<int>(std::ceil(ToSeconds(state.rest_left)));
    rest_->setText(low_ ? tr("%n second(s), or any key.", nullptr, seconds)
                        : tr("%n second(s), or any key to go on at once.", nullptr, seconds));
  }
  if (state.phase != FlowPhase::kReturn && state.phase != FlowPhase::kSettle) heard_->hide();
}

void MeasureView::SetTrials(const std::vector<Trial>& trials) {
  dots_->SetTrials(trials, StoppingPlan().least);
}

void MeasureView::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  FitHeight();
  PlacePreview();
}

void MeasureView::FitHeight() {
  const QWidget* visible = parentWidget();
  while (visible != nullptr && qobject_cast<const QScrollArea*>(visible) == nullptr) {
    visible = visible->parentWidget();
  }
  // No key scrolls here, since every key is a press.
  constexpr double kGuides = 2.2;  // the lane, and as much again for what is read
  const bool low =
      (visible != nullptr ? visible->height() : height()) < kGuides * guide_->sizeHint().height();
  if (low != low_) {
    low_ = low;
    QFont font = low ? look::Large() : look::Huge();
    if (low) font.setWeight(QFont::DemiBold);
    headline_->setFont(font);
    line_->setFont(low ? look::Body() : LineFont());
    rest_->setFont(low ? look::Body() : look::Large());
    // What room there is goes below everything, out of sight.
    column_->setStretch(above_, low ? 0 : 1);
    column_->setStretch(below_, low ? 0 : 1);
    column_->setStretch(column_->count() - 1, low ? 1 : 0);
    if (percept_ != nullptr) {
      percept_->setFixedSize(low ? look::Art(80) : look::Art(150),
                             low ? look::Art(56) : look::Art(104));
      if (low) {
        top_->addWidget(percept_);
      } else {
        sees_->addWidget(percept_, 0, Qt::AlignHCenter);
      }
      caption_->setVisible(!low);
    }
    PlacePreview();
  }
  // While the eyes are not found the lane has nothing to say, and the line says why.
  if (low_ && finding_) guide_->hide();
  line_->setVisible(!low_ || guide_->isHidden());
}

void MeasureView::PlacePreview() {
  // In a small window the words come first.
  int row = dots_->sizeHint().width() + preview_->width() + look::Art(64) +
            QFontMetrics(heard_->font()).horizontalAdvance(tr("✓ heard: one again"));
  if (percept_) row += percept_->width();
  preview_->setVisible(!broken_ && !low_ && width() >= row && height() >= 4 * preview_->height());
}

void MeasureView::SetPreview(const QImage& preview) { preview_->SetImage(preview); }

void MeasureView::SetPercept(bool two) {
  if (percept_) percept_->SetKind(two ? percept::Kind::kTwo : percept::Kind::kOne);
}

void MeasureView::ShowHeard(bool two) {
  heard_->setText(two ? tr("✓ heard: two") : tr("✓ heard: one again"));
  heard_->show();
}

}  // namespace nearpoint
