// One picture of a source. The pixels are owned by the frame and nobody gets a mutable view: copies
// of a Frame share them safely between threads.
#pragma once

#include <cstdint>
#include <memory>
#include <opencv2/core.hpp>
#include <utility>

#include "vision/core/units.h"

namespace nearpoint {

class Frame {
 public:
  // bgr: 8-bit, three channels, not empty; the caller gives it away and keeps no other header on
  // the same data. skipped_before: frames that are known to be lost between the previous frame and
  // this one (dropped, unreadable).
  Frame(std::int64_t index, Time time, cv::Mat bgr, std::int64_t skipped_before = 0)
      : index_(index),
        time_(time),
        skipped_before_(skipped_before),
        bgr_(std::make_shared<const cv::Mat>(std::move(bgr))) {}

  [[nodiscard]] std::int64_t index() const { return index_; }
  [[nodiscard]] Time time() const { return time_; }
  [[nodiscard]] std::int64_t skipped_before() const { return skipped_before_; }
  [[nodiscard]] const cv::Mat& bgr() const { return *bgr_; }

 private:
  std::int64_t index_;
  Time time_;
  std::int64_t skipped_before_;
  std::shared_ptr<const cv::Mat> bgr_;
};

}  // namespace nearpoint
