#include "tests/bench/eye_labels.h"

#include <gmock/gmock.h>

#include <map>

#include "tests/support/result_matchers.h"

namespace nearpoint::bench {
namespace {

using testing::HasSubstr;

const std::string kHeader = "clip,frame,left_eye,right_eye,head\n";

TEST(EyeLabelsTest, ReadsEachColumn) {
  const auto labels = ParseEyeLabels(
      kHeader +
          "a.mp4,7,open,half,frontal\na.mp4,9,closed,hidden,turned\nb.png,0,outside,open,frontal\n",
      "table");
  ASSERT_THAT(labels, IsOk());
  ASSERT_EQ(labels->size(), 3U);
  EXPECT_EQ((*labels)[0].clip, "a.mp4");
  EXPECT_EQ((*labels)[0].frame, 7);
  EXPECT_EQ((*labels)[0].left_eye, Lids::kOpen);
  EXPECT_EQ((*labels)[0].right_eye, Lids::kHalf);
  EXPECT_FALSE((*labels)[0].head_turned);
  EXPECT_EQ((*labels)[1].left_eye, Lids::kClosed);
  EXPECT_EQ((*labels)[1].right_eye, Lids::kHidden);
  EXPECT_TRUE((*labels)[1].head_turned);
  EXPECT_EQ((*labels)[2].left_eye, Lids::kOutside);
}

TEST(EyeLabelsTest, RefusesWhatIsNoLabel) {
  const auto refused = [](const std::string& rows) {
    return ParseEyeLabels(kHeader + rows, "table");
  };
  EXPECT_THAT(ParseEyeLabels("a.mp4,7,open,open,frontal\n", "table"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("first line")));
  EXPECT_THAT(refused("a.mp4,7,open,open\n"), FailsWith(ErrorCode::kBadValue, HasSubstr("line 2")));
  EXPECT_THAT(refused("a.mp4,-1,open,open,frontal\n"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("frame")));
  EXPECT_THAT(refused("a.mp4,7,open,wide,frontal\n"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("eye")));
  EXPECT_THAT(refused("a.mp4,7,open,open,away\n"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("head")));
  EXPECT_THAT(refused("a.mp4,7,open,open,frontal\na.mp4,7,open,open,frontal\n"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("line 3")));
  EXPECT_THAT(refused("a.mp4,7,open,open,frontal\nb.mp4,1,open,open,frontal\n"
                      "a.mp4,8,open,open,frontal\n"),
              FailsWith(ErrorCode::kBadValue, HasSubstr("line 4")));
}

TEST(EyeLabelsTest, TheTableCoversEveryClipAndClosedLids) {
  const auto labels = ReadEyeLabels(NEARPOINT_TEST_DATA "/real_eyes.csv");
  ASSERT_THAT(labels, IsOk());
  EXPECT_GE(labels->size(), 300U);
  std::map<std::string, int> frames, closed;
  for (const EyeLabel& label : *labels) {
    ++frames[label.clip];
    if (label.BothAre(Lids::kClosed)) ++closed[label.clip];
  }
  for (const char* clip : {"webcam-1.mp4", "webcam-2.mp4", "webcam-3.mp4"}) {
    EXPECT_GE(frames[clip], 40) << clip;
    EXPECT_GE(closed[clip], 1) << clip;
  }
  for (const char* portrait :
       {"portrait-1.png", "portrait-2.jpg", "portrait-3.jpg", "portrait-4.jpg"}) {
    EXPECT_EQ(frames[portrait], 1) << portrait;
  }
}

}  // namespace
}  // namespace nearpoint::bench
