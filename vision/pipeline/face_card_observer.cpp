#include "vision/pipeline/face_card_observer.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "calibration/population.h"
#include "vision/eyes/lid_corner.h"
#include "vision/face/face_finder.h"
#include "vision/pipeline/card_placement.h"
#include "vision/pipeline/iris_search.h"

namespace nearpoint {
namespace {

constexpr int kLeastMarkers = 6;  // of 15
constexpr double kLargestMisfitPx = 0.6;
constexpr double kFarthestMm = 800;
constexpr double kNearestMm = 250;
constexpr double kSearchWidth = 320;  // pixels: the search for a whole face
constexpr double kEyesBehindCardMm = 20;
// Irises of people differ by 3.6 % (population.h); four deviations, and the depth of the eyes.
constexpr double kIrisSpread = 0.18;
constexpr double kLargestDifference = 0.07;  // of the two irises' sizes

double PopulationIrisMm() { return PopulationFace().iris->value.mm(); }

}  // namespace

std::string_view ToText(NoFaceCard reason) {
  switch (reason) {
    case NoFaceCard::kNoPattern:
      return "the card is not found";
    case NoFaceCard::kFewMarkers:
      return "too little of the card's pattern can be read";
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
  CameraIntrinsics camera;
  FaceFinder finder;
  LidCornerFinder corner_finder;
  std::optional<Landmarks> landmarks;  // of the picture before

  Impl(const CameraIntrinsics& c, FaceFinder f, LidCornerFinder l)
      : camera(c), finder(std::move(f)), corner_finder(std::move(l)) {}

  FaceCardSeen Card(const Frame& frame, std::optional<CardPlacement>* card) const {
    FaceCardSeen out;
    PatternOptions options;
    options.by_look = false;  // the hand that holds the card lies across some markers
    const auto pattern = FindPattern(frame.bgr(), options);
    if (!pattern) {
      out.why = NoFaceCard::kNoPattern;
      out.pattern = pattern.error();
      return out;
    }
    out.markers = static_cast<int>(pattern->markers.size());
    *card = PlaceCard(*pattern, camera);
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

  void FindLandmarks(const cv::Mat& grey) {
    std::optional<FaceBox> box;
    if (landmarks) box = finder.BoxFrom(*landmarks);
    const double reduction = std::max(1.0, camera.width / kSearchWidth);
    if (!box) box = finder.Detect(grey, reduction);
    if (!box && reduction >= 2) box = finder.Detect(grey, reduction / 2);
    landmarks.reset();
    if (box) landmarks = finder.Fit(grey, *box);
  }

  Result<FaceCardSeen> Process(const Frame& frame) {
    if (frame.bgr().cols != camera.width || frame.bgr().rows != camera.height) {
      return Fail(ErrorCode::kMismatch,
                  "The picture is " + std::to_string(frame.bgr().cols) + "x" +
                      std::to_string(frame.bgr().rows) + " pixels, the profile was made for " +
                      std::to_string(camera.width) + "x" + std::to_string(camera.height) + ".");
    }
    std::optional<CardPlacement> card;
    FaceCardSeen out = Card(frame, &card);
    if (out.why) return out;
    const EyeChannels picture = EyeChannelsOf(frame.bgr());
    FindLandmarks(picture.grey);
    out.why = NoFaceCard::kNoEyes;
    if (!landmarks) return out;
    const Eigen::Vector3d normal = -card->camera_from_card.col(2);
    const double depth_mm = card->middle_mm.z() + kEyesBehindCardMm;
    const double radius_px = camera.fx * PopulationIrisMm() / 2 / depth_mm;
    const auto& l = *landmarks;
    const auto right = FindIrisBetween(picture, l[36], l[39], radius_px, kIrisSpread);
    const auto left = FindIrisBetween(picture, l[42], l[45], radius_px, kIrisSpread);
    if (!left || !right ||
        std::abs(std::log(left->ellipse.semi_major_px / right->ellipse.semi_major_px)) >
            kLargestDifference) {
      landmarks.reset();  // look for the whole face afresh: it may have been something else
      return out;
    }
    out.why.reset();
    FaceCardView view;
    view.camera_from_card = card->camera_from_card;
    view.card_middle_mm = card->middle_mm;
    view.aspect = card->aspect;
    const auto seen = [](const LimbusFit& fit) {
      return SeenIris{fit.ellipse.centre_px, 2 * fit.ellipse.semi_major_px};
    };
    view.left = seen(*left);
    view.right = seen(*right);
    // The landmarks only say where to look; a corner that is not found stays unknown.
    const auto corners_of = [&](std::size_t outer, std::size_t inner, const LimbusFit& iris) {
      return corner_finder.FindBoth(frame.bgr(), {l[outer], l[inner]}, iris.ellipse.semi_major_px);
    };
    const auto of_right = corners_of(36, 39, *right);
    const auto of_left = corners_of(45, 42, *left);
    const std::array<std::optional<LidCorner>, kFaceCorners> corners{of_right[0], of_right[1],
                                                                     of_left[1], of_left[0]};
    for (std::size_t i = 0; i < kFaceCorners; ++i) {
      if (corners[i]) view.corners_px[i] = corners[i]->position_px;
    }
    out.turn_deg = std::atan2(normal.x(), -normal.z()) * 180 / std::numbers::pi;
    out.view = view;
    return out;
  }
};

FaceCardObserver::FaceCardObserver(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
FaceCardObserver::FaceCardObserver(FaceCardObserver&&) noexcept = default;
FaceCardObserver& FaceCardObserver::operator=(FaceCardObserver&&) noexcept = default;
FaceCardObserver::~FaceCardObserver() = default;

Result<FaceCardObserver> FaceCardObserver::Create(const CameraIntrinsics& camera,
                                                  const FaceCardModels& models) {
  auto corners = LidCornerFinder::Load(models.lid_corner_file);
  if (!corners) return tl::unexpected(corners.error());
  auto finder = FaceFinder::Load(models.landmark_file);
  if (!finder) return tl::unexpected(finder.error());
  return FaceCardObserver(std::make_unique<Impl>(camera, *std::move(finder), *std::move(corners)));
}

Result<FaceCardSeen> FaceCardObserver::Process(const Frame& frame) { return impl_->Process(frame); }

}  // namespace nearpoint
