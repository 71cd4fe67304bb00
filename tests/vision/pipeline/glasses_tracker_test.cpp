// Stills of a simulated patient behind lenses with power, each found afresh.
#include <gmock/gmock.h>

#include <cmath>
#include <vector>

#include "models/landmark_model.h"
#include "tests/support/result_matchers.h"
#include "vision/pipeline/tracker.h"
#include "vision/simulate/studio.h"

namespace nearpoint {
namespace {

struct Still {
  cv::Mat bgr;
  double distance_mm, vergence_deg;
};

simulate::PatientOptions Behind(double left, double right) {
  simulate::PatientOptions options;
  options.optics.camera = simulate::PinholeCamera(1280, 720, Angle::Degrees(65));
  simulate::Spectacles worn;
  worn.left.sphere = left;
  worn.right.sphere = right;
  options.appearance.spectacles = worn;
  return options;
}

std::vector<Still> Stills(const simulate::PatientOptions& options,
                          const std::vector<double>& distances_mm) {
  simulate::Studio studio(options);
  std::vector<Still> stills;
  for (const double mm : distances_mm) {
    const simulate::PatientState state =
        simulate::Performance::Posed(options, Length::Millimeters(mm), {}, {}, {});
    stills.push_back({studio.TakeStill(0, state).clone(), state.distance_mm,
                      Angle::Radians(state.vergence_rad).deg()});
  }
  return stills;
}

Result<Tracker> MakeTracker(const Profile& profile) {
  const auto model = FindLandmarkModel();
  if (!model) return tl::unexpected(model.error());
  return Tracker::Create(profile, {*model, *FindEyeFinderModel(), *FindEyeReaderModel()});
}

// Ten seconds apart: nothing is known of the one before.
std::vector<DistanceSample> Look(Tracker& tracker, const std::vector<Still>& stills) {
  std::vector<DistanceSample> samples;
  std::int64_t frame = 0;
  for (const Still& still : stills) {
    samples.push_back(*tracker.Process(
        Frame(frame, FromMilliseconds(1e4 * static_cast<double>(frame)), still.bgr.clone())));
    ++frame;
  }
  return samples;
}

TEST(TrackerThroughGlasses, MeasuresTheEyesBehindUnequalLensesThatWereEntered) {
  const auto options = Behind(-6, -3);
  const auto stills = Stills(options, {250, 120});
  Profile profile = simulate::TrueProfile(options);
  Glasses glasses;
  glasses.worn = true;
  glasses.left = glasses.right = LensPrescription();
  glasses.left->sphere.value = Diopters::Of(-6);
  glasses.right->sphere.value = Diopters::Of(-3);
  profile.face.glasses = glasses;
  auto tracker = MakeTracker(profile);
  ASSERT_THAT(tracker, IsOk());
  const auto samples = Look(*tracker, stills);
  for (std::size_t i = 0; i < stills.size(); ++i) {
    ASSERT_TRUE(samples[i].distance && samples[i].vergence) << stills[i].distance_mm;
    EXPECT_NEAR(samples[i].distance->value.mm() / stills[i].distance_mm, 1, 0.012);
    EXPECT_NEAR(samples[i].vergence->deg(), stills[i].vergence_deg, 3);
    EXPECT_NEAR(samples[i].left_lens->diopters, -6, 1);
    EXPECT_NEAR(samples[i].right_lens->diopters, -3, 1);
  }
}

// Lenses of -6 dioptres show the irises a twelfth smaller.
TEST(TrackerThroughGlasses, FindsStrongLensesThatNobodySpokeOf) {
  const auto options = Behind(-6, -6);
  const auto stills = Stills(options, {300, 140});
  Profile profile = simulate::TrueProfile(options);
  auto tracker = MakeTracker(profile);
  ASSERT_THAT(tracker, IsOk());
  const auto samples = Look(*tracker, stills);
  for (std::size_t i = 0; i < stills.size(); ++i) {
    ASSERT_TRUE(samples[i].distance) << stills[i].distance_mm;
    const double off = std::abs(samples[i].distance->value.mm() - stills[i].distance_mm);
    EXPECT_LT(off, 0.05 * stills[i].distance_mm);
    EXPECT_LT(off, 2 * samples[i].distance->sd.mm());
    ASSERT_TRUE(samples[i].left_lens) << stills[i].distance_mm;
    EXPECT_LT(samples[i].left_lens->diopters, -3);
  }
  // Who says that none are worn is believed.
  profile.face.glasses = Glasses();
  profile.face.glasses->worn = false;
  auto told = MakeTracker(profile);
  ASSERT_THAT(told, IsOk());
  for (const DistanceSample& sample : Look(*told, stills)) EXPECT_FALSE(sample.left_lens);
}

}  // namespace
}  // namespace nearpoint
