#include "app/window/answer_guard.h"

#include <QApplication>
#include <QKeyEvent>
#include <QWidget>
#include <utility>

namespace nearpoint {

AnswerGuard::AnswerGuard(QWidget* asks, std::function<std::chrono::milliseconds()> ticks)
    : asks_(asks), ticks_(std::move(ticks)) {
  qApp->installEventFilter(this);
}

AnswerGuard::~AnswerGuard() { qApp->removeEventFilter(this); }

void AnswerGuard::Begin(std::chrono::milliseconds quiet) {
  // Again, so that it is asked before every other filter.
  qApp->removeEventFilter(this);
  qApp->installEventFilter(this);
  on_ = true;
  until_ = ticks_() + quiet;
  held_.clear();
  let_through_.clear();
}

bool AnswerGuard::eventFilter(QObject* watched, QEvent* event) {
  const auto* widget = qobject_cast<QWidget*>(watched);
  if (!on_ || widget == nullptr || widget->window() != asks_->window() || !asks_->isVisible()) {
    return false;
  }
  switch (event->type()) {
    case QEvent::KeyPress: {
      const auto* key = static_cast<QKeyEvent*>(event);
      const bool went_down_before = key->isAutoRepeat() && !let_through_.contains(key->key());
      if (ticks_() < until_ || went_down_before) held_.insert(key->key());
      if (held_.contains(key->key())) return true;
      let_through_.insert(key->key());
      return false;
    }
    case QEvent::KeyRelease: {
      const auto* key = static_cast<QKeyEvent*>(event);
      if (key->isAutoRepeat()) return held_.contains(key->key());
      let_through_.erase(key->key());
      return held_.erase(key->key()) > 0;
    }
    case QEvent::MouseButtonPress:
    case QEvent::MouseButtonDblClick:
    case QEvent::TouchBegin:
      return ticks_() < until_;
    default:
      return false;
  }
}

std::chrono::milliseconds SteadyTicks() {
  return std::chrono::duration_cast<std::chrono::milliseconds>(
      std::chrono::steady_clock::now().time_since_epoch());
}

}  // namespace nearpoint
