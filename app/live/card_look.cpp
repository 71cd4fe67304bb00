#include "app/live/card_look.h"

#include <utility>

#include "app/live/preview.h"
#include "calibration/lens.h"
#include "models/landmark_model.h"
#include "vision/card/card_pattern.h"

namespace nearpoint {
namespace {

constexpr int kLeastMarkers = 4;

Result<std::string> Verified(Result<std::string> file) {
  if (!file) return file;
  if (auto verified = VerifyModel(*file); !verified) return tl::unexpected(verified.error());
  return file;
}

}  // namespace

Result<CardLooker> CardLooker::Create(CardTask task, const Profile& profile) {
  const CameraIntrinsics& camera = profile.camera;
  CardLooker looker(task, camera);
  if (task != CardTask::kFace && task != CardTask::kTouch) return looker;
  const auto landmarks = Verified(FindLandmarkModel());
  if (!landmarks) return tl::unexpected(landmarks.error());
  if (task == CardTask::kTouch) {
    Profile untouched = profile;
    untouched.held_card = profile.held_card.value_or(HeldCardSetup{});
    untouched.held_card->zero.reset();
    auto tracker = HeldCardTracker::Create(untouched, *landmarks);
    if (!tracker) return tl::unexpected(tracker.error());
    looker.held_card_ = *std::move(tracker);
    return looker;
  }
  const auto corners = Verified(FindLidCornerModel());
  if (!corners) return tl::unexpected(corners.error());
  auto observer = FaceCardObserver::Create(camera, {*landmarks, *corners});
  if (!observer) return tl::unexpected(observer.error());
  looker.observer_ = *std::move(observer);
  return looker;
}

Result<CardLook> CardLooker::Look(const Frame& frame) {
  CardLook look;
  look.frame = frame.index();
  look.time = frame.time();
  const cv::Mat& picture = frame.bgr();
  look.brightness = MiddleBrightness(picture);
  const auto add = [&](const Eigen::Vector2d& px) {
    look.outline.emplace_back((px.x() + 0.5) / picture.cols, (px.y() + 0.5) / picture.rows);
  };
  if (task_ == CardTask::kTouch) {
    const auto sample = held_card_->Process(frame);
    if (!sample) return tl::unexpected(sample.error());
    const auto target = held_card_->target_mm();
    if (sample->distance && sample->eye_mid_mm && target) {
      look.touch = SampleTouch(sample->time, *target, *sample->eye_mid_mm, sample->distance->sd);
      look.touch->aspect = held_card_->print_aspect();
    } else {
      look.lost = sample->why.value_or(LostReason::kNoCard);
    }
    return look;
  }
  if (task_ == CardTask::kFace) {
    auto seen = observer_->Process(frame);
    if (!seen) return tl::unexpected(seen.error());
    look.face = *std::move(seen);
    if (const auto& view = look.face.view) {
      for (const Eigen::Vector2d& corner : CardCorners()) {
        add(ProjectThroughLens(camera_,
                               view->camera_from_card * Eigen::Vector3d(corner.x(), corner.y(), 0) +
                                   view->card_middle_mm));
      }
    }
    return look;
  }
  if (task_ == CardTask::kPrint) {
    look.print = SeePrint(picture, camera_);
    if (look.print.card_px) {
      for (const Eigen::Vector2d& corner : *look.print.card_px) add(corner);
    }
    return look;
  }
  if (task_ == CardTask::kPlainViews) {
    auto found = FindPlainCard(picture);
    if (found) {
      look.card = std::move(found->edges);
    } else {
      look.no_plain_card = found.error();
    }
  } else {
    PatternOptions options;
    options.least_markers = kLeastMarkers;
    auto found = FindPattern(picture, options);
    if (found) {
      look.card = std::move(found->edges);
    } else {
      look.no_pattern = found.error();
    }
  }
  if (look.card) {
    for (const Eigen::Vector2d& corner : CardCorners()) add(ImageOfCardPoint(*look.card, corner));
  }
  return look;
}

}  // namespace nearpoint
