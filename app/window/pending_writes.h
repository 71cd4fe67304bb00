// What the store did not take: kept in memory, said, and tried again until it is written.
#pragma once

#include <QObject>
#include <QTimer>
#include <deque>
#include <functional>
#include <optional>

#include "vision/core/result.h"

namespace nearpoint {

class PendingWrites : public QObject {
  Q_OBJECT

 public:
  using Write = std::function<Result<void>()>;

  PendingWrites();

  // Writes, after all that waits: in the order in which they came. What fails waits, is tried again
  // every few seconds, and may be called any number of times; its error is the answer.
  Result<void> Do(Write write);
  // All that waits, now; the error of the first that still fails.
  Result<void> TryAgain();

  [[nodiscard]] int count() const { return static_cast<int>(waiting_.size()); }
  // Why the first of them failed last.
  [[nodiscard]] const std::optional<Error>& error() const { return error_; }

 signals:
  void Changed();

 private:
  std::deque<Write> waiting_;
  std::optional<Error> error_;
  QTimer again_;
};

}  // namespace nearpoint
