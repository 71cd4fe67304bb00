#include "vision/pipeline/face_card_observer.h"

#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <utility>

#include "vision/face/face_finder.h"
#include "vision/pipeline/card_placement.h"

namespace nearpoint {
namespace {

constexpr int kLeastMarkers = 8;  // of 15
constexpr double kLargestMisfitPx = 0.6;
constexpr double kFarthestMm = 800;
constexpr double kNearestMm = 250;
constexpr double kSearchWidth = 320;  // pixels: the search for a whole face

}  // namespace

std::string_view ToText(NoFaceCard reason) {
  switch (reason) {
    case NoFaceCard::kNoPattern:
      return "the card is not found";
    case NoFaceCard::kFewMarkers:
      return "too much of the card is covered";
    case NoFaceCard::kBent:
      return "the card is bent";
    case NoFaceCard::kMisfit:
      return "the pattern does not fit a card of this size";
    case NoFaceCard::kNoEyes:
      return "the eyes are not found";
    case NoFaceCard::kTooFar:
      return "the face is too far away";
    case NoFaceCard::kTooNear:
      return "the face is too near";
  }
  return "";
}

struct FaceCardObserver::Impl {
  Profile profile;
  Tracker tracker;
  FaceFinder finder;
  std::optional<Landmarks> landmarks;  // of the picture before

  Impl(const Profile& p, Tracker t, FaceFinder f)
      : profile(p), tracker(std::move(t)), finder(std::move(f)) {}

  FaceCardSeen Card(const Frame& frame, std::optional<CardPlacement>* card) const {
    FaceCardSeen out;
    const auto pattern = FindPattern(frame.bgr());
    if (!pattern) {
      out.why = NoFaceCard::kNoPattern;
      out.pattern = pattern.error();
      return out;
    }
    out.markers = static_cast<int>(pattern->markers.size());
    *card = PlaceCard(*pattern, profile.camera);
    if (out.markers < kLeastMarkers || !*card) {
      out.why = NoFaceCard::kFewMarkers;
    } else if (IsBent(**card)) {
      out.why = NoFaceCard::kBent;
    } else if ((*card)->misfit_px > kLargestMisfitPx) {
      out.why = NoFaceCard::kMisfit;
    } else if ((*card)->middle_mm.z() > kFarthestMm) {
      out.why = NoFaceCard::kTooFar;
    } else if ((*card)->middle_mm.z() < kNearestMm) {
      out.why = NoFaceCard::kTooNear;
    }
    return out;
  }

  Result<FaceCardSeen> Process(const Frame& frame) {
    // The tracker sees every frame, or it would lose the head in between.
    const auto sample = tracker.Process(frame);
    if (!sample) return tl::unexpected(sample.error());
    std::optional<CardPlacement> card;
    FaceCardSeen out = Card(frame, &card);
    if (out.why) return out;
    if (!sample->left_eye || !sample->right_eye) {
      out.why = NoFaceCard::kNoEyes;
      return out;
    }
    FaceCardView view;
    view.camera_from_card = card->camera_from_card;
    view.card_middle_mm = card->middle_mm;
    view.left = SeenIris{sample->left_eye->iris_px, sample->left_eye->iris_major_px};
    view.right = SeenIris{sample->right_eye->iris_px, sample->right_eye->iris_major_px};
    cv::Mat grey;
    cv::cvtColor(frame.bgr(), grey, cv::COLOR_BGR2GRAY);
    std::optional<FaceBox> box;
    if (landmarks) box = finder.BoxFrom(*landmarks);
    if (!box || sample->mode != TrackMode::kFace) {
      box = finder.Detect(grey, std::max(1.0, profile.camera.width / kSearchWidth));
    }
    landmarks.reset();
    if (box) {
      landmarks = finder.Fit(grey, *box);
      constexpr std::array<std::size_t, kFaceCorners> kNumbers{36, 39, 42, 45};
      for (std::size_t i = 0; i < kNumbers.size(); ++i) view.corners_px[i] = (*landmarks)[kNumbers[i]];
    }
    const Eigen::Vector3d normal = -card->camera_from_card.col(2);
    out.turn_deg = std::atan2(normal.x(), -normal.z()) * 180 / std::numbers::pi;
    out.view = view;
    return out;
  }
};

FaceCardObserver::FaceCardObserver(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
FaceCardObserver::FaceCardObserver(FaceCardObserver&&) noexcept = default;
FaceCardObserver& FaceCardObserver::operator=(FaceCardObserver&&) noexcept = default;
FaceCardObserver::~FaceCardObserver() = default;

Result<FaceCardObserver> FaceCardObserver::Create(const Profile& profile,
                                                  const TrackerModels& models) {
  auto tracker = Tracker::Create(profile, models);
  if (!tracker) return tl::unexpected(tracker.error());
  auto finder = FaceFinder::Load(models.landmark_file);
  if (!finder) return tl::unexpected(finder.error());
  return FaceCardObserver(
      std::make_unique<Impl>(profile, *std::move(tracker), *std::move(finder)));
}

Result<FaceCardSeen> FaceCardObserver::Process(const Frame& frame) { return impl_->Process(frame); }

}  // namespace nearpoint
