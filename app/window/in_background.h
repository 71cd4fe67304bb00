// A computation of a second or so that must not hold up the window: runs in a thread of its own and
// hands its result to the page, if the page is still there.
#pragma once

#include <QObject>
#include <QPointer>
#include <memory>
#include <thread>
#include <utility>

namespace nearpoint {

// Joins when destroyed: the owner waits for what it started.
class InBackground {
 public:
  // work() runs in the thread, then done(result) in that of `owner`.
  template <typename Work, typename Done>
  void Run(QObject* owner, Work work, Done done) {
    thread_ = std::jthread([owner = QPointer<QObject>(owner), work = std::move(work),
                            done = std::move(done)]() mutable {
      auto result = std::make_shared<decltype(work())>(work());
      if (!owner) return;
      QMetaObject::invokeMethod(
          owner, [done = std::move(done), result]() mutable { done(std::move(*result)); },
          Qt::QueuedConnection);
    });
  }

  // Until work() is done; done() may still be to come.
  void Wait() {
    if (thread_.joinable()) thread_.join();
  }

 private:
  std::jthread thread_;
};

}  // namespace nearpoint
