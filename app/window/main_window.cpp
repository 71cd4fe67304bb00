#include "app/window/main_window.h"

#include <QApplication>
#include <QCloseEvent>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QMouseEvent>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <utility>

#include "app/window/app_context.h"
#include "app/window/look.h"
#include "app/window/pages/all_pages.h"
#include "app/window/parts.h"
#include "app/window/pending_writes.h"
#include "app/window/safety_gate.h"
#include "app/window/words.h"

namespace nearpoint {

MainWindow::MainWindow(AppContext& context, QWidget* parent)
    : QMainWindow(parent), context_(context), makers_(AllPages()) {
  setObjectName("window");
  resize(1080, 760);
  setMinimumSize(640, 480);
  auto* all = new QWidget(this);
  all->setObjectName("paper");
  auto* column = new QVBoxLayout(all);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(0);
  place_ = new QWidget(all);
  place_layout_ = new QVBoxLayout(place_);
  place_layout_->setContentsMargins(0, 0, 0, 0);
  column->addWidget(place_, 1);
  setCentralWidget(all);
  ApplyLook();
  connect(context_.pending.get(), &PendingWrites::Changed, this, &MainWindow::RefreshUnwritten);
  qApp->installEventFilter(this);
}

MainWindow::~MainWindow() {
  qApp->removeEventFilter(this);
  // The pages use the camera; they go before it does.
  delete page_;
}

void MainWindow::AddPage(PageId id, PageMaker maker) { makers_[id] = std::move(maker); }

void MainWindow::Show(PageId wanted) {
  // Whatever way leads there: nobody measures or exercises past the questions before it.
  const PageId page = Admit(context_, wanted);
  const auto maker = makers_.find(page);
  if (maker == makers_.end()) return;
  if (page_) {
    place_layout_->removeWidget(page_);
    // Now and not later: its end stops the source that the next page may start. No page is on the
    // stack here, since every way that leads from one is queued.
    delete std::exchange(page_, nullptr);
  }
  shown_ = page;
  page_ = maker->second(context_, place_);
  connect(page_, &Page::Wanted, this, &MainWindow::Show, Qt::QueuedConnection);
  connect(
      page_, &Page::LookChanged, this,
      [this] {
        ApplyLook();
        Show(shown_);
      },
      Qt::QueuedConnection);
  place_layout_->addWidget(page_);
  page_->show();
  setWindowTitle(page_->Heading().isEmpty() ? QString("nearpoint")
                                            : QString("%1 · nearpoint").arg(page_->Heading()));
  RefreshBar();
  if (page_->BeginsWithoutFocus()) {
    page_->setFocus();
  } else if (!page_->TakesEveryPress() && (!focusWidget() || !page_->isAncestorOf(focusWidget()))) {
    page_->setFocus();
    focusNextChild();
  }
}

void MainWindow::ApplyLook() {
  setFont(look::Body());
  setStyleSheet(look::StyleSheet());
  delete bar_;
  MakeBar();
  delete unwritten_;
  MakeUnwritten();
}

void MainWindow::MakeUnwritten() {
  unwritten_ = new QWidget(centralWidget());
  auto* row = new QHBoxLayout(unwritten_);
  row->setContentsMargins(look::Px(28), look::Px(4), look::Px(20), look::Px(4));
  row->setSpacing(look::Px(12));
  auto* said = parts::Text(QString(), "stop", unwritten_);
  said->setObjectName("unwritten");
  row->addWidget(said, 1);
  auto* again = new QPushButton(tr("Try again"), unwritten_);
  again->setObjectName("write_again");
  again->setFont(look::Body());
  again->setFocusPolicy(Qt::TabFocus);
  again->setAutoDefault(true);
  connect(again, &QPushButton::clicked, this,
          [this] { static_cast<void>(context_.pending->TryAgain()); });
  row->addWidget(again);
  static_cast<QVBoxLayout*>(centralWidget()->layout())->insertWidget(1, unwritten_);
  RefreshUnwritten();
}

void MainWindow::RefreshUnwritten() {
  const PendingWrites& pending = *context_.pending;
  unwritten_->setVisible(pending.count() > 0);
  if (pending.count() == 0) {
    close_anyway_ = false;
    return;
  }
  QString text =
      tr("%n thing(s) could not be written down. They are kept in memory and tried "
         "again.",
         nullptr, pending.count());
  if (pending.error()) text += ' ' + words::ForError(*pending.error());
  if (close_anyway_) text += ' ' + tr("Close the window again, and they are lost.");
  unwritten_->findChild<QLabel*>("unwritten")->setText(text);
}

void MainWindow::MakeBar() {
  bar_ = new QWidget(centralWidget());
  bar_->setObjectName("bar");
  bar_->setAttribute(Qt::WA_StyledBackground);
  auto* row = new QHBoxLayout(bar_);
  row->setContentsMargins(look::Px(28), look::Px(8), look::Px(20), look::Px(8));
  row->setSpacing(look::Px(12));
  auto* name = new QLabel("nearpoint", bar_);
  name->setProperty("role", "name");
  name->setFont(look::Body());
  who_ = new QLabel(bar_);
  who_->setProperty("role", "quiet");
  who_->setFont(look::Body());
  // A long name gives way instead of widening the window.
  who_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
  practice_ = new QLabel(bar_);
  practice_->setProperty("role", "tag");
  practice_->setFont(look::Body());
  auto* settings = new QPushButton(tr("Settings"), bar_);
  settings->setObjectName("settings");
  settings->setFont(look::Body());
  settings->setFocusPolicy(Qt::TabFocus);
  connect(settings, &QPushButton::clicked, this, [this] { Show(PageId::kSettings); });
  row->addWidget(name);
  row->addWidget(who_, 1);
  row->addWidget(practice_);
  row->addWidget(settings);
  static_cast<QVBoxLayout*>(centralWidget()->layout())->insertWidget(0, bar_);
  RefreshBar();
}

void MainWindow::RefreshBar() {
  const bool for_patient = page_ == nullptr || page_->ForPatient();
  const QString who = page_ == nullptr ? QString() : page_->Who();
  practice_->setVisible(context_.practice && for_patient);
  // The whole sentence where there is room for it beside the rest.
  const QString whole = tr("Practice: a simulated person, no measurement");
  practice_->setAccessibleName(whole);
  practice_->setToolTip(whole);
  const int room = width() - look::Px(360);
  practice_->setText(
      QFontMetrics(practice_->font()).horizontalAdvance(whole) < room ? whole : tr("Practice"));
  auto* const settings = bar_->findChild<QPushButton*>("settings");
  settings->setVisible(page_ == nullptr || !page_->TakesEveryPress());
  // A long name ends in dots, not in the middle of a letter.
  int taken = look::Px(48) + look::Px(36);  // margins and gaps
  for (const QWidget* part : bar_->findChildren<QWidget*>(Qt::FindDirectChildrenOnly)) {
    if (part != who_ && !part->isHidden()) taken += part->sizeHint().width();
  }
  who_->setText(who.isEmpty() ? QString()
                              : who_->fontMetrics().elidedText("· " + who, Qt::ElideRight,
                                                               std::max(0, width() - taken)));
  who_->setAccessibleName(who);
  who_->setToolTip(who);
}

bool MainWindow::TakePress(QEvent* event) {
  if (event->type() == QEvent::KeyPress) {
    const auto* key = static_cast<QKeyEvent*>(event);
    const bool modifier = key->key() == Qt::Key_Control || key->key() == Qt::Key_Alt ||
                          key->key() == Qt::Key_Shift || key->key() == Qt::Key_Meta ||
                          key->key() == Qt::Key_AltGr || key->key() == Qt::Key_CapsLock;
    if (modifier || key->modifiers().testAnyFlags(Qt::ControlModifier | Qt::AltModifier)) {
      return false;
    }
    if (key->isAutoRepeat()) return true;
    page_->TakePress();
    return true;
  }
  page_->TakePress();
  return true;
}

bool MainWindow::eventFilter(QObject* watched, QEvent* event) {
  const auto* widget = qobject_cast<QWidget*>(watched);
  if (page_ == nullptr || widget == nullptr || widget->window() != this) return false;
  if (event->type() == QEvent::KeyPress) {
    if (static_cast<QKeyEvent*>(event)->key() == Qt::Key_Escape) {
      if (!static_cast<QKeyEvent*>(event)->isAutoRepeat() && page_->WayOut() != shown_) {
        QMetaObject::invokeMethod(
            this, [this, way_out = page_->WayOut()] { Show(way_out); }, Qt::QueuedConnection);
      }
      return true;
    }
    return page_->TakesEveryPress() && TakePress(event);
  }
  if (event->type() == QEvent::MouseButtonPress || event->type() == QEvent::MouseButtonDblClick) {
    // A button that is there to be clicked keeps its click; everywhere else a click is a report.
    return page_->TakesEveryPress() && qobject_cast<const QPushButton*>(watched) == nullptr &&
           TakePress(event);
  }
  return false;
}

void MainWindow::resizeEvent(QResizeEvent* event) {
  QMainWindow::resizeEvent(event);
  RefreshBar();
}

void MainWindow::closeEvent(QCloseEvent* event) {
  context_.live.Stop();
  // A measurement is over now, while what cannot be written of it can still be said.
  if (page_ != nullptr && page_->TakesEveryPress()) Show(page_->WayOut());
  if (context_.pending->TryAgain() || close_anyway_) {
    event->accept();
    return;
  }
  close_anyway_ = true;
  RefreshUnwritten();
  event->ignore();
}

}  // namespace nearpoint
