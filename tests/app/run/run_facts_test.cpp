#include "app/run/run_facts.h"

#include <gmock/gmock.h>

namespace nearpoint {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

TEST(RunFactsTest, SaysInOneSentenceThatARecordingBreaksOff) {
  RunCounts counts;
  counts.frames = 91;
  counts.missing = 9;
  counts.cut_off = FromMilliseconds(3000);
  const auto cautions = CautionsOfRun({}, counts);
  EXPECT_THAT(cautions,
              Contains("The recording breaks off after 3.0 s, and 9 of 100 frames are missing; "
                       "what was measured until then counts."));
  EXPECT_THAT(cautions, Not(Contains(HasSubstr("dropped"))));
  counts.missing = 0;  // the container does not tell how many were to come
  EXPECT_THAT(CautionsOfRun({}, counts), Contains("The recording breaks off after 3.0 s; what was "
                                                  "measured until then counts."));
}

TEST(RunFactsTest, CountsMissingFramesOfWhatDoesNotBreakOff) {
  RunCounts counts;
  counts.frames = 8;
  EXPECT_THAT(CautionsOfRun({}, counts), Not(Contains(HasSubstr("missing"))));
  counts.missing = 2;
  EXPECT_THAT(CautionsOfRun({}, counts),
              Contains("2 of 10 frames are missing: dropped, damaged or cut off."));
}

}  // namespace
}  // namespace nearpoint
