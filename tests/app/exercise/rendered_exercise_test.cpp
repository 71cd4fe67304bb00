// One repetition from pictures: the simulated patient rendered, the tracker, the counter. Nobody's
// vergence is given; it is measured from the pictures as in front of a camera.
#include <gmock/gmock.h>

#include "app/exercise/graded_levels.h"
#include "app/exercise/pair_geometry.h"
#include "app/exercise/repetition_counter.h"
#include "app/measure/convergence.h"
#include "models/landmark_model.h"
#include "tests/support/result_matchers.h"
#include "vision/camera/frame.h"
#include "vision/pipeline/tracker.h"
#include "vision/simulate/patient.h"

namespace nearpoint {
namespace {

constexpr double kFramesPerSecond = 15;
constexpr double kScreenMm = 500;  // eyes to the lens's plane
constexpr double kFingerMm = 200;  // eyes to the fingertip

// Looks at one point for as long as is asked, blinking and swaying.
simulate::PatientOptions LooksAt(double screen_mm, double distance_mm) {
  simulate::PatientOptions o;
  o.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  o.behaviour.trials = 1;
  o.behaviour.fusion_holds = true;
  o.behaviour.start = Length::Millimeters(distance_mm);
  o.behaviour.nearest = Length::Millimeters(distance_mm - 10);
  o.behaviour.approach = Speed::MillimetersPerSecond(1);
  o.behaviour.frames_per_second = kFramesPerSecond;
  // A finger stands before the screen, so the point is as far in front of the lens's plane as the
  // head is nearer to it.
  o.target_mm = {0, 20, screen_mm - distance_mm};
  return o;
}

class Rendered {
 public:
  // tracked_mm: eyes to where the tracker expects them to look, about half way in vergence.
  explicit Rendered(double screen_mm = kScreenMm, double finger_mm = kFingerMm,
                    double tracked_mm = 300)
      : screen_mm_(screen_mm) {
    Profile profile = simulate::TrueProfile(LooksAt(screen_mm, screen_mm));
    CounterSetup setup;
    setup.screen_in_camera_mm = profile.target_mm;
    setup.gain = kTrackerGain;
    setup.gain_sd = kTrackerGainSd;
    profile.target_mm.z() += screen_mm - tracked_mm;
    const auto model = FindLandmarkModel();
    EXPECT_THAT(model, IsOk());
    auto tracker = Tracker::Create(profile, {*model, *FindEyeFinderModel(), *FindEyeReaderModel()},
                                   {LevelLimits().nearest - kCorneaToRotation});
    EXPECT_THAT(tracker, IsOk());
    tracker_.emplace(*std::move(tracker));
    setup.pupils = *profile.face.distance_pd;
    setup.separation =
        PairSeparation(setup.pupils.value, Length::Millimeters(finger_mm) + kCorneaToRotation,
                       Length::Millimeters(screen_mm) + kCorneaToRotation);
    setup.repetitions = 1;
    setup.hold_s = 2.5;
    counter_.emplace(setup);
  }

  // For so many seconds, or until an attempt ends.
  void Look(double distance_mm, double seconds, std::optional<double> report_after_s = {}) {
    auto patient = simulate::MakePatient(LooksAt(screen_mm_, distance_mm));
    ASSERT_THAT(patient, IsOk());
    for (int i = 0; i < seconds * kFramesPerSecond && counter_->attempts().empty(); ++i) {
      const auto frame = (*patient)->Next();
      ASSERT_TRUE(frame && *frame);
      now_ += FromMilliseconds(1e3 / kFramesPerSecond);
      if (report_after_s && i == static_cast<int>(*report_after_s * kFramesPerSecond)) {
        counter_->OnReport(FusionReport::kFused, now_);
      }
      const auto sample = tracker_->Process(Frame(index_++, now_, (*frame)->bgr().clone()));
      ASSERT_THAT(sample, IsOk());
      counter_->OnSample(*sample);
    }
  }
  [[nodiscard]] const RepetitionCounter& counter() const { return *counter_; }

 private:
  double screen_mm_;
  std::optional<Tracker> tracker_;
  std::optional<RepetitionCounter> counter_;
  Time now_{};
  std::int64_t index_ = 0;
};

TEST(RenderedExercise, EyesThatTurnInAreCounted) {
  Rendered session;
  session.Look(kScreenMm, 3);
  ASSERT_EQ(session.counter().phase(), CounterPhase::kBringNear);
  session.Look(kFingerMm, 7, 1.0);
  ASSERT_EQ(session.counter().attempts().size(), 1U);
  const Attempt& attempt = session.counter().attempts()[0];
  EXPECT_TRUE(attempt.counted()) << ToText(*attempt.why);
  // Where the pair asks for and where the eyes were seen to cross, by the truth of the scene: the
  // head comes 10 mm nearer at most.
  EXPECT_NEAR(attempt.asked.mm(), kFingerMm, 8);
  ASSERT_TRUE(attempt.reach);
  EXPECT_NEAR(attempt.reach->value.mm(), kFingerMm,
              10 + 3 * std::hypot(attempt.reach->sd.mm(), attempt.reach_shared_sd.mm()));
}

// 24 degrees beyond the screen.
TEST(RenderedExercise, AHarderPairIsCountedToo) {
  Rendered session(430, 93, 158);
  session.Look(430, 3);
  ASSERT_EQ(session.counter().phase(), CounterPhase::kBringNear);
  session.Look(93, 6, 1.0);
  ASSERT_EQ(session.counter().attempts().size(), 1U);
  const Attempt& attempt = session.counter().attempts()[0];
  EXPECT_TRUE(attempt.counted()) << ToText(*attempt.why);
}

TEST(RenderedExercise, EyesThatStayAreNot) {
  Rendered session;
  session.Look(kScreenMm, 3);
  ASSERT_EQ(session.counter().phase(), CounterPhase::kBringNear);
  session.Look(kScreenMm, 7, 1.0);
  ASSERT_EQ(session.counter().attempts().size(), 1U);
  EXPECT_EQ(session.counter().attempts()[0].why, NotCounted::kOnlyHandMoved);
}

}  // namespace
}  // namespace nearpoint
