#include "app/window/page.h"

#include <QApplication>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QVBoxLayout>

#include "app/window/app_context.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {
namespace {
// Lines longer than this are hard to follow.
constexpr int kWidestText = 820;
}  // namespace

Page::Page(AppContext& context, QWidget* parent) : QWidget(parent), context_(context) {
  setObjectName("paper");
  setFont(look::Body());
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(0, 0, 0, 0);
  all->setSpacing(0);

  auto* scroll = new QScrollArea(this);
  scroll->setWidgetResizable(true);
  scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  // A keyboard scrolls the page only while the area itself has the focus.
  scroll->setFocusPolicy(Qt::NoFocus);
  auto* scrolled = new QWidget(scroll);
  scrolled->setObjectName("scrolled");
  auto* centred = new QHBoxLayout(scrolled);
  centred->setContentsMargins(look::Px(28), look::Px(24), look::Px(28), look::Px(20));
  auto* column = new QWidget(scrolled);
  column->setMaximumWidth(look::Px(kWidestText));
  column->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Preferred);
  centred->addStretch(1);
  centred->addWidget(column, 1000);
  centred->addStretch(1);
  body_ = new QVBoxLayout(column);
  body_->setContentsMargins(0, 0, 0, 0);
  body_->setSpacing(look::Px(14));

  step_ = new QLabel(column);
  step_->setFont(look::Body());
  step_->setProperty("role", "quiet");
  step_->hide();
  body_->addWidget(step_);
  heading_ = new QLabel(column);
  heading_->setFont(look::Heading());
  heading_->setWordWrap(true);
  lead_ = new QLabel(column);
  lead_->setFont(look::Large());
  lead_->setWordWrap(true);
  lead_->hide();
  body_->addWidget(heading_);
  body_->addWidget(lead_);
  scroll->setWidget(scrolled);
  scroll_ = scroll;
  all->addWidget(scroll, 1);
  // The area itself follows the focus only from one of its widgets to the next.
  connect(qApp, &QApplication::focusChanged, scroll, [scroll, scrolled](QWidget*, QWidget* now) {
    if (now != nullptr && scrolled->isAncestorOf(now)) scroll->ensureWidgetVisible(now);
  });

  footer_ = new QWidget(this);
  footer_->setObjectName("footer");
  footer_->setAttribute(Qt::WA_StyledBackground);
  auto* row = new QHBoxLayout(footer_);
  row->setContentsMargins(look::Px(28), look::Px(12), look::Px(28), look::Px(12));
  row->setSpacing(look::Px(8));
  asides_ = new QWidget(footer_);
  auto* asides = new QBoxLayout(QBoxLayout::LeftToRight, asides_);
  asides->setContentsMargins(0, 0, 0, 0);
  asides->setSpacing(look::Px(8));
  row->addWidget(asides_);
  row->addStretch(1);
  all->addWidget(footer_);
  footer_->hide();
}

QString Page::Heading() const { return heading_->text(); }

QString Page::Who() const { return context_.person ? context_.person->name : QString(); }

void Page::SetHeading(const QString& heading) {
  heading_->setText(heading);
  setAccessibleName(heading);
}

void Page::SetLead(const QString& lead) {
  lead_->setText(lead);
  lead_->setVisible(!lead.isEmpty());
  setAccessibleDescription(lead);
}

QPushButton* Page::SetNext(const QString& text) {
  if (!next_) {
    next_ = new QPushButton(footer_);
    next_->setProperty("role", "next");
    next_->setFont(look::Large());
    next_->setAutoDefault(true);
    static_cast<QHBoxLayout*>(footer_->layout())->addWidget(next_);
  }
  next_->setText(text);
  next_->setAccessibleName(text);
  next_->show();
  footer_->show();
  return next_;
}

void Page::HideNext() {
  if (next_ == nullptr) return;
  next_->hide();
  next_->disconnect();
}

QPushButton* Page::AddAside(const QString& text) {
  auto* aside = new QPushButton(text, asides_);
  aside->setFont(look::Body());
  aside->setAutoDefault(true);
  asides_->layout()->addWidget(aside);
  footer_->show();
  return aside;
}

void Page::PlaceAsides() {
  if (fills_window_) return;  // the way out stays in sight
  int wanted = 2 * look::Px(28) + (next_ != nullptr ? next_->sizeHint().width() : 0);
  int buttons = 0;
  for (const QPushButton* aside : asides_->findChildren<QPushButton*>()) {
    if (aside->isHidden()) continue;
    wanted += aside->sizeHint().width() + look::Px(8);
    ++buttons;
  }
  const bool below = wanted > width();
  PutAsides(below);
  footer_->setVisible(next_ != nullptr || (buttons > 0 && !below));
}

void Page::PutAsides(bool below) {
  if (below == asides_below_) return;
  asides_below_ = below;
  auto* layout = static_cast<QBoxLayout*>(asides_->layout());
  layout->setDirection(below ? QBoxLayout::TopToBottom : QBoxLayout::LeftToRight);
  if (below) {
    body_->addWidget(asides_, 0, Qt::AlignLeft);
  } else {
    static_cast<QHBoxLayout*>(footer_->layout())->insertWidget(0, asides_);
  }
  asides_->show();
}

void Page::resizeEvent(QResizeEvent* event) {
  QWidget::resizeEvent(event);
  PlaceAsides();
}

void Page::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  PlaceAsides();
}

QPushButton* Page::SetNext(const QString& text, PageId page) {
  QPushButton* const next = SetNext(text);
  connect(next, &QPushButton::clicked, this, [this, page] { emit Wanted(page); });
  return next;
}

QPushButton* Page::AddAside(const QString& text, PageId page) {
  QPushButton* const aside = AddAside(text);
  connect(aside, &QPushButton::clicked, this, [this, page] { emit Wanted(page); });
  return aside;
}

void Page::AddChoice(QBoxLayout* to, const char* name, const QString& title, const QString& state,
                     PageId page, bool possible) {
  QPushButton* const button = parts::Choice(title, state);
  button->setObjectName(name);
  button->setEnabled(possible);
  connect(button, &QPushButton::clicked, this, [this, page] { emit Wanted(page); });
  to->addWidget(button);
}

void Page::SetStep(const QString& step) {
  step_->setText(step);
  step_->setVisible(!step.isEmpty());
}

void Page::keyPressEvent(QKeyEvent* event) {
  const bool enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
  if (enter && next_ != nullptr && next_->isEnabled() && !next_->isHidden()) {
    next_->click();
    return;
  }
  // Text without a button below it is reached by no Tab.
  if (event->key() == Qt::Key_PageDown || event->key() == Qt::Key_PageUp) {
    static_cast<QScrollArea*>(scroll_)->verticalScrollBar()->triggerAction(
        event->key() == Qt::Key_PageDown ? QAbstractSlider::SliderPageStepAdd
                                         : QAbstractSlider::SliderPageStepSub);
    return;
  }
  QWidget::keyPressEvent(event);
}

void Page::FillWindow() {
  PutAsides(false);
  fills_window_ = true;
  body_->parentWidget()->setMaximumWidth(QWIDGETSIZE_MAX);
  HideHeading();
}

void Page::HideHeading() {
  // Every line is needed where nothing may have to be scrolled.
  auto* scrolled = static_cast<QScrollArea*>(scroll_)->widget();
  scrolled->layout()->setContentsMargins(look::Px(28), look::Px(10), look::Px(28), look::Px(6));
  step_->hide();
  heading_->hide();
  lead_->hide();
}

}  // namespace nearpoint
