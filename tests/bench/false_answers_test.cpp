#include "tests/bench/false_answers.h"

#include <gmock/gmock.h>

namespace nearpoint::bench {
namespace {

TEST(FalseAnswersTest, CountsAnswersAndThoseThatLastOncePerRun) {
  FalseAnswers count;
  count.StartSequence();
  for (const bool answered : {true, false, true, true, true, false}) count.Add("cat", answered);
  count.StartSequence();
  for (const bool answered : {true, true}) count.Add("door", answered);
  EXPECT_EQ(count.frames(), 8);
  EXPECT_EQ(count.answers(), 6);
  EXPECT_EQ(count.lasting(), 2);
  EXPECT_THAT(count.places(),
              testing::UnorderedElementsAre(testing::Pair("cat", 4), testing::Pair("door", 2)));
}

TEST(FalseAnswersTest, TwoSequencesAreNotOneRun) {
  FalseAnswers count;
  count.StartSequence();
  count.Add("cat", true);
  count.StartSequence();
  count.Add("cat", true);
  EXPECT_EQ(count.answers(), 2);
  EXPECT_EQ(count.lasting(), 0);
}

}  // namespace
}  // namespace nearpoint::bench
