#include "vision/camera/open_source.h"

#include <gmock/gmock.h>

#include <opencv2/imgcodecs.hpp>

#include "tests/support/frames.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

TEST(OpenSourceTest, TakesDigitsForACamera) {
  EXPECT_THAT(OpenSource("987"), FailsWith(ErrorCode::kNotFound, HasSubstr("camera 987")));
  EXPECT_THAT(OpenSource("99999999999999999999"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("camera 9999")));
}

TEST(OpenSourceTest, TakesAFolderForImages) {
  const TempFolder folder;
  EXPECT_THAT(OpenSource(folder.path().string()),
              FailsWith(ErrorCode::kNotFound, HasSubstr("frames.jsonl")));
  ASSERT_TRUE(cv::imwrite(folder / "a.png", NumberedPicture(0)));
  folder.Write("frames.jsonl", "{\"file\":\"a.png\",\"t_ms\":0}");
  EXPECT_THAT(OpenSource(folder.path().string()), IsOk());
}

TEST(OpenSourceTest, TakesAnythingElseForAFile) {
  EXPECT_THAT(OpenSource("no-such-clip.avi"),
              FailsWith(ErrorCode::kNotFound, HasSubstr("no-such-clip.avi")));
  EXPECT_THAT(OpenSource("-1"), FailsWith(ErrorCode::kNotFound, HasSubstr("-1")));
  EXPECT_THAT(OpenSource(""), FailsWith(ErrorCode::kBadValue, HasSubstr("empty")));
}

}  // namespace
}  // namespace nearpoint
