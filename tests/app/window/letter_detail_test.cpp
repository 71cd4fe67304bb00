#include "app/window/letter_detail.h"

#include <gmock/gmock.h>

#include "app/print/card_sheet.h"
#include "calibration/fixation_letter.h"
#include "tests/app/window/home_fixture.h"

namespace nearpoint {
namespace {

// 20/30 at 40 cm: 1.5 minutes of arc are 0.1745 mm; seen from 6 cm they are 10 minutes.
TEST(FixationLetterTest, IsAsFineAsTheSheetPrintsIt) {
  EXPECT_NEAR(PrintedLetterDetail(Profile()).mm(), 0.1745, 0.0001);
  EXPECT_NEAR(PrintedLetterDetail(Profile()).mm(), LetterHeightMm(400) / kLetterStrokes, 1e-5);
  EXPECT_NEAR(ArcminOf(PrintedLetterDetail(Profile()), kLetterDistance), 1.5, 1e-9);
  EXPECT_NEAR(ArcminOf(PrintedLetterDetail(Profile()), Length::Millimeters(60)), 10.0, 0.01);
}

// A print that came out smaller has a smaller letter; only where somebody measured it.
TEST(FixationLetterTest, FollowsTheMeasuredPrint) {
  Profile profile;
  profile.print = PrintScale{0.94, 0.96, 0.002};
  EXPECT_NEAR(PrintedLetterDetail(profile).mm(), 0.1745, 0.0001);
  profile.made.print = Origin();
  EXPECT_NEAR(PrintedLetterDetail(profile).mm(), 0.95 * 0.1745, 0.0001);
}

TEST(LetterDetailTest, IsKnownOnlyWhereSomebodyKnowsTheLetter) {
  Home home;
  const Profile profile;
  const auto detail = [&](const char* target, double mm_per_dot) {
    return LetterDetail(target, home.store(), profile, mm_per_dot);
  };
  EXPECT_FALSE(detail("printed", 0.25));  // a slip of paper of one's own
  EXPECT_FALSE(detail("screen", 0));      // nobody measured the screen
  EXPECT_NEAR(detail("screen", 0.25)->mm(), 0.25, 1e-9);
  EXPECT_NEAR(detail("card", 0.25)->mm(), 0.1745, 0.0001);
  ASSERT_TRUE(SetLetterIsOfTheSheet(home.store(), true));
  EXPECT_NEAR(detail("printed", 0.25)->mm(), 0.1745, 0.0001);
  ASSERT_TRUE(SetLetterIsOfTheSheet(home.store(), false));
  EXPECT_FALSE(detail("printed", 0.25));
}

}  // namespace
}  // namespace nearpoint
