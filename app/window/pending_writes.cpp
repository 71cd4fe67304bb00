#include "app/window/pending_writes.h"

#include <utility>

namespace nearpoint {
namespace {

constexpr int kAgainMs = 5000;

}  // namespace

PendingWrites::PendingWrites() {
  again_.setInterval(kAgainMs);
  connect(&again_, &QTimer::timeout, this, [this] { static_cast<void>(TryAgain()); });
}

Result<void> PendingWrites::Do(Write write) {
  waiting_.push_back(std::move(write));
  return TryAgain();
}

Result<void> PendingWrites::TryAgain() {
  const auto before = waiting_.size();
  const bool failed_before = error_.has_value();
  error_.reset();
  while (!waiting_.empty()) {
    if (const auto written = waiting_.front()(); !written) {
      error_ = written.error();
      break;
    }
    waiting_.pop_front();
  }
  if (waiting_.empty()) {
    again_.stop();
  } else if (!again_.isActive()) {
    again_.start();
  }
  if (before != waiting_.size() || failed_before != error_.has_value() || error_) emit Changed();
  if (error_) return tl::unexpected(*error_);
  return {};
}

}  // namespace nearpoint
