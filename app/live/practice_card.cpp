#include "app/live/practice_card.h"

#include <Eigen/Geometry>
#include <array>
#include <chrono>
#include <cmath>
#include <memory>
#include <numbers>
#include <thread>
#include <utility>

#include "app/live/open_camera.h"
#include "app/live/practice_patient.h"
#include "vision/card/draw_pattern.h"
#include "vision/simulate/studio.h"

namespace nearpoint {
namespace {

using simulate::CardPlace;
using simulate::PatientOptions;

constexpr double kFramesPerSecond = 8;
constexpr int kWidth = 960;
constexpr int kHeight = 540;
constexpr double kFieldDeg = 60;
constexpr int kHeldFrames = 5;    // in each tilt: two count, and people see that it stands still
constexpr int kMovingFrames = 4;  // from one to the next
constexpr double kTiltDeg = 32;
constexpr auto kTurning = std::chrono::seconds(60);
constexpr auto kTouching = std::chrono::seconds(24);  // a quarter without the card, a quarter held

PatientOptions Person(CardPlace place) {
  PatientOptions person = DefaultPractice().patient;
  person.optics.camera = CardPracticeCamera();
  person.optics.aperture = Length();
  person.target_mm = {0, 0, 0};
  simulate::Behaviour& behaviour = person.behaviour;
  behaviour.trials = 1;
  behaviour.frames_per_second = kFramesPerSecond;
  behaviour.start = Length::Millimeters(place == CardPlace::kForehead ? 450 : 400);
  behaviour.hold = place == CardPlace::kForehead ? Time(kTurning) : Time(kTouching);
  if (place == CardPlace::kForehead) behaviour.turn = Angle::Degrees(12);
  simulate::CardProp card;
  card.place = place;
  card.picture = DrawCardPattern(10);
  person.card = card;
  return person;
}

// Pictures on one clock, at the pace of people or at once.
class Paced : public FrameSource {
 public:
  explicit Paced(PracticePace pace) : pace_(pace), began_(std::chrono::steady_clock::now()) {
    info_.description = "a simulated person who shows the card";
    info_.width = kWidth;
    info_.height = kHeight;
  }
  [[nodiscard]] const SourceInfo& info() const override { return info_; }
  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    const Time now = FromMilliseconds(1000 * static_cast<double>(index_) / kFramesPerSecond);
    if (watched()) {
      std::this_thread::sleep_until(
          began_ + std::chrono::duration_cast<std::chrono::steady_clock::duration>(now));
    }
    auto picture = Draw(index_);
    if (!picture) return tl::unexpected(picture.error());
    return std::optional(Frame(index_++, now, *std::move(picture)));
  }

 protected:
  [[nodiscard]] bool watched() const { return pace_ == PracticePace::kAsPeople; }

 private:
  [[nodiscard]] virtual Result<cv::Mat> Draw(std::int64_t index) = 0;

  PracticePace pace_;
  std::chrono::steady_clock::time_point began_;
  SourceInfo info_;
  std::int64_t index_ = 0;
};

// The card before the lens in all the tilts and places that the guidance asks for, over and over.
class TiltedCard : public Paced {
 public:
  explicit TiltedCard(PracticePace pace)
      : Paced(pace),
        person_(Person(CardPlace::kHeld)),
        studio_(person_),
        rest_(simulate::Performance::Posed(person_, Length::Millimeters(300), {}, {}, {})) {}

 private:
  struct Held {
    double turned_deg, tipped_deg;
    double right_mm, below_mm, far_mm;
  };
  // All five tilts in the middle, then each corner of the picture in two of them.
  static constexpr std::array<Held, 13> kPoses{{{0, 0, 0, 0, 190},
                                                {0, kTiltDeg, 0, 0, 210},
                                                {0, -kTiltDeg, 0, 0, 200},
                                                {kTiltDeg, 0, 0, 0, 190},
                                                {-kTiltDeg, 0, 0, 0, 210},
                                                {kTiltDeg, 0, -78, -44, 230},
                                                {0, kTiltDeg, -78, -44, 230},
                                                {-kTiltDeg, 0, 78, -44, 230},
                                                {0, -kTiltDeg, 78, -44, 230},
                                                {kTiltDeg, 0, 78, 44, 230},
                                                {0, kTiltDeg, 78, 44, 230},
                                                {-kTiltDeg, 0, -78, 44, 230},
                                                {0, -kTiltDeg, -78, 44, 230}}};

  static simulate::CardPose PoseOf(const Held& held) {
    constexpr double kDegree = std::numbers::pi / 180;
    const Eigen::Matrix3d turn =
        (Eigen::AngleAxisd(held.turned_deg * kDegree, Eigen::Vector3d::UnitY()) *
         Eigen::AngleAxisd(held.tipped_deg * kDegree, Eigen::Vector3d::UnitX()))
            .toRotationMatrix();
    return {turn, {held.right_mm, held.below_mm, held.far_mm}};
  }

  [[nodiscard]] Result<cv::Mat> Draw(std::int64_t index) override {
    // Where nobody watches, the two pictures that count are enough.
    const int held = watched() ? kHeldFrames : 2;
    const int moving = watched() ? kMovingFrames : 0;
    const auto step = static_cast<std::size_t>(index / (held + moving));
    const auto within = static_cast<int>(index % (held + moving));
    const simulate::CardPose from = PoseOf(kPoses.at(step % kPoses.size()));
    const simulate::CardPose to = PoseOf(kPoses.at((step + 1) % kPoses.size()));
    const double part = within < held ? 0 : (within - held + 1.0) / (moving + 1.0);
    simulate::PatientState state = rest_;
    state.card = simulate::CardPose{Eigen::Quaterniond(from.camera_from_card)
                                        .slerp(part, Eigen::Quaterniond(to.camera_from_card))
                                        .toRotationMatrix(),
                                    from.middle_mm + part * (to.middle_mm - from.middle_mm)};
    return studio_.Take(index, state, state, state, 1 / kFramesPerSecond);
  }

  PatientOptions person_;
  simulate::Studio studio_;
  simulate::PatientState rest_;
};

// A whole performance, and from its end the same again.
class Performed : public Paced {
 public:
  Performed(PracticePace pace, CardPlace place) : Paced(pace), person_(Person(place)) {}

 private:
  [[nodiscard]] Result<cv::Mat> Draw(std::int64_t index) override {
    for (int attempt = 0; attempt < 2; ++attempt) {
      if (!source_) {
        auto source = simulate::MakePatient(person_);
        if (!source) return tl::unexpected(source.error());
        source_ = *std::move(source);
      }
      auto frame = source_->Next();
      if (!frame) return tl::unexpected(frame.error());
      if (*frame) return (*frame)->bgr();
      source_.reset();
    }
    return Fail(ErrorCode::kUnavailable,
                "The simulated person shows nothing (picture " + std::to_string(index) + ").");
  }

  PatientOptions person_;
  std::unique_ptr<FrameSource> source_;
};

std::unique_ptr<FrameSource> SourceFor(CardTask task, PracticePace pace) {
  switch (task) {
    case CardTask::kFace:
      return std::make_unique<Performed>(pace, CardPlace::kForehead);
    case CardTask::kTouch:
      return std::make_unique<Performed>(pace, CardPlace::kTouch);
    case CardTask::kPatternViews:
    case CardTask::kPlainViews:
    case CardTask::kPrint:
      break;
  }
  return std::make_unique<TiltedCard>(pace);
}

}  // namespace

CameraIntrinsics CardPracticeCamera() {
  return simulate::PinholeCamera(kWidth, kHeight, Angle::Degrees(kFieldDeg));
}

OpenLiveSource OpenCardPractice(CardTask task, Profile known, PracticePace pace) {
  return [task, known = std::move(known), pace]() -> Result<LiveSource> {
    if (task == CardTask::kPrint) {
      return Fail(ErrorCode::kUnavailable,
                  "The simulated person has no sheet to lay a card on: try the ruler, or go on.");
    }
    LiveSource source;
    source.frames = SourceFor(task, pace);
    source.profile = known;
    if (known.camera.width != kWidth || known.camera.height != kHeight) {
      source.profile.camera = OrdinaryWebcam(kWidth, kHeight);
    }
    source.simulated = true;
    return source;
  };
}

}  // namespace nearpoint
