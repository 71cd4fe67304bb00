#include "vision/tracking/in_view.h"

#include <gmock/gmock.h>

#include "tests/vision/tracking/known_scene.h"

namespace nearpoint {
namespace {

TEST(InView, HoldsBothEyesOfAHeadBeforeTheLens) {
  const KnownScene known;
  EXPECT_TRUE(BothInView(known.Now(), At(0, 0, 400)));
  EXPECT_TRUE(WholeInView(known.Now(), At(0, 0, 400), true));
}

// The patient's left eye leaves the picture on its right: the image is not mirrored.
TEST(InView, TellsWhichEyeLeavesThePicture) {
  const KnownScene known;
  const HeadPose aside = At(245, 0, 400);
  EXPECT_FALSE(InView(known.Now(), aside, true));
  EXPECT_TRUE(InView(known.Now(), aside, false));
  EXPECT_FALSE(BothInView(known.Now(), aside));
}

// 640 pixels at 1000 pixels of focal length: an eye that is 30 mm aside leaves below about 47 mm,
// and its outer edge, 36 mm aside, earlier.
TEST(InView, LosesTheEdgeOfAnIrisBeforeItsMiddle) {
  const KnownScene known;
  double middle_mm = 0, whole_mm = 0;
  for (double z = 90; z > 25; z -= 0.5) {
    if (whole_mm == 0 && !WholeInView(known.Now(), At(0, 0, z), true)) whole_mm = z;
    if (middle_mm == 0 && !InView(known.Now(), At(0, 0, z), true)) middle_mm = z;
  }
  EXPECT_GT(whole_mm, middle_mm + 3);
  EXPECT_THAT(middle_mm, testing::AllOf(testing::Gt(35), testing::Lt(50)));
}

TEST(InView, HasNoEyesBehindTheLens) {
  const KnownScene known;
  EXPECT_FALSE(InView(known.Now(), At(0, 0, -100), true));
}

}  // namespace
}  // namespace nearpoint
