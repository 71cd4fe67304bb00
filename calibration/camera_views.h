// Takes from a stream of pictures the views of the card that help the camera's adjustment. Pure.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "calibration/camera_guidance.h"
#include "calibration/card_view.h"
#include "vision/core/units.h"

namespace nearpoint {

enum class ViewStep {
  kNoCard,
  kMoving,  // the card must stand still for two pictures
  kSame,    // and the next two: as ViewUse
  kTooSmall,
  kTooSteep,
  kTaken,
};

class CameraViews {
 public:
  // live: somebody holds the card before a camera and is guided; it is enough when the guidance is
  // complete. A recording is used as far as it goes.
  CameraViews(int width, int height, bool live) : width_(width), height_(height), live_(live) {}

  // One picture in the order of time; view: absent where no card was found.
  ViewStep Offer(Time time, std::int64_t frame, const std::optional<CardView>& view);

  [[nodiscard]] bool Enough() const;
  [[nodiscard]] const std::vector<CardView>& views() const { return views_; }
  [[nodiscard]] const std::vector<std::int64_t>& frames() const { return frames_; }
  [[nodiscard]] CameraGuidance Guide() const { return GuideCamera(summaries_); }

 private:
  int width_, height_;
  bool live_;
  std::vector<CardView> views_;
  std::vector<std::int64_t> frames_;  // of the views
  std::vector<ViewSummary> summaries_;
  std::optional<ViewSummary> before_;
  std::optional<Time> last_time_;
};

}  // namespace nearpoint
