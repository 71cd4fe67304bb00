#include "calibration/camera_views.h"

namespace nearpoint {
namespace {

constexpr std::size_t kMostViews = 30;
// Single pictures lie far apart in time; each was taken on purpose, and none has to wait for the
// card to stand still.
constexpr Time kSingle = FromMilliseconds(300);

}  // namespace

ViewStep CameraViews::Offer(Time time, std::int64_t frame, const std::optional<CardView>& view) {
  if (!view) {
    before_.reset();
    return ViewStep::kNoCard;
  }
  const ViewSummary summary = SummariseView(*view, width_, height_);
  const bool single = !last_time_ || time - *last_time_ > kSingle;
  const bool still = before_ && HeldStill(*before_, summary);
  last_time_ = time;
  before_ = summary;
  if ((live_ || !single) && !still) return ViewStep::kMoving;
  switch (JudgeView(summaries_, summary)) {
    case ViewUse::kSame:
      return ViewStep::kSame;
    case ViewUse::kTooSmall:
      return ViewStep::kTooSmall;
    case ViewUse::kTooSteep:
      return ViewStep::kTooSteep;
    case ViewUse::kTake:
      break;
  }
  views_.push_back(*view);
  frames_.push_back(frame);
  summaries_.push_back(summary);
  return ViewStep::kTaken;
}

bool CameraViews::Enough() const {
  return views_.size() >= kMostViews || (live_ && GuideCamera(summaries_).complete);
}

}  // namespace nearpoint
