#include "vision/camera/image_folder_source.h"

#include <gmock/gmock.h>

#include <opencv2/imgcodecs.hpp>

#include "tests/support/frames.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

class ImageFolderTest : public testing::Test {
 protected:
  void Picture(const std::string& name, int number, int width = 96, int height = 64) {
    ASSERT_TRUE(cv::imwrite(folder_ / name, NumberedPicture(number, width, height)));
  }
  void List(const std::string& text) { folder_.Write("frames.jsonl", text); }
  Result<std::unique_ptr<FrameSource>> Open() { return OpenImageFolder(folder_.path()); }

  TempFolder folder_;
};

TEST_F(ImageFolderTest, GivesEveryPictureWithItsTimeAndNumber) {
  for (int i = 0; i < 3; ++i) Picture(std::to_string(i) + ".png", i);
  List(
      "{\"file\": \"0.png\", \"t_ms\": 0}\n\n{\"file\": \"1.png\", \"t_ms\": 33.3}\n"
      "{\"file\": \"2.png\", \"t_ms\": 66.6, \"more\": true}\n");
  auto source = Open();
  ASSERT_THAT(source, IsOk());
  EXPECT_EQ((*source)->info().width, 96);
  EXPECT_EQ((*source)->info().height, 64);
  EXPECT_EQ((*source)->info().frame_count, 3);
  EXPECT_FALSE((*source)->info().live);
  const ReadToEnd all = ReadAll(**source);
  EXPECT_FALSE(all.error);
  ASSERT_EQ(all.frames.size(), 3u);
  for (int i = 0; i < 3; ++i) {
    EXPECT_EQ(all.frames[i].index(), i);
    EXPECT_EQ(NumberOf(all.frames[i].bgr()), i);
    EXPECT_EQ(all.frames[i].skipped_before(), 0);
  }
  EXPECT_EQ(all.frames[1].time(), FromMilliseconds(33.3));
}

TEST_F(ImageFolderTest, CountsWhatIsMissingOrDamagedAndKeepsItsNumber) {
  Picture("0.png", 0);
  Picture("4.png", 4);
  folder_.Write("2.png", "this is no picture");
  folder_.Write("3.png", "");
  List(
      "{\"file\":\"0.png\",\"t_ms\":0}\n{\"file\":\"1.png\",\"t_ms\":1}\n{\"file\":\"2.png\",\"t_"
      "ms\":2}\n"
      "{\"file\":\"3.png\",\"t_ms\":3}\n{\"file\":\"4.png\",\"t_ms\":4}\n{\"file\":\"5.png\",\"t_"
      "ms\":5}\n");
  auto source = Open();
  ASSERT_THAT(source, IsOk());
  const ReadToEnd all = ReadAll(**source);
  ASSERT_EQ(all.frames.size(), 2u);
  EXPECT_EQ(all.frames[1].index(), 4);
  EXPECT_EQ(all.frames[1].skipped_before(), 3);
  EXPECT_EQ((*source)->info().unreadable, 4);
}

TEST_F(ImageFolderTest, TakesItsSizeFromTheFirstReadablePicture) {
  Picture("1.png", 1);
  List("{\"file\":\"0.png\",\"t_ms\":0}\n{\"file\":\"1.png\",\"t_ms\":1}\n");
  auto source = Open();
  ASSERT_THAT(source, IsOk());
  EXPECT_EQ((*source)->info().width, 96);
  const ReadToEnd all = ReadAll(**source);
  ASSERT_EQ(all.frames.size(), 1u);
  EXPECT_EQ(all.frames[0].skipped_before(), 1);
}

TEST_F(ImageFolderTest, RefusesAnotherSizeInTheMiddleAndGoesOnRefusing) {
  Picture("0.png", 0);
  Picture("1.png", 1, 48, 64);
  List("{\"file\":\"0.png\",\"t_ms\":0}\n{\"file\":\"1.png\",\"t_ms\":1}\n");
  auto source = Open();
  ASSERT_THAT(source, IsOk());
  ASSERT_THAT((*source)->Next(), IsOk());
  const auto words = AllOf(HasSubstr("1.png"), HasSubstr("48x64"), HasSubstr("96x64"));
  EXPECT_THAT((*source)->Next(), FailsWith(ErrorCode::kBadValue, words));
  EXPECT_THAT((*source)->Next(), FailsWith(ErrorCode::kBadValue, words));
}

TEST_F(ImageFolderTest, NamesTheListWhereThereIsNone) {
  EXPECT_THAT(Open(), FailsWith(ErrorCode::kNotFound, HasSubstr("frames.jsonl")));
  List("\n\n");
  EXPECT_THAT(Open(), FailsWith(ErrorCode::kBadValue, HasSubstr("empty")));
  List("{\"file\":\"0.png\",\"t_ms\":0}\n");
  EXPECT_THAT(Open(), FailsWith(ErrorCode::kNotFound, HasSubstr("not one image")));
}

struct BadLine {
  const char* line;
  const char* word;
};
class BadListTest : public ImageFolderTest, public testing::WithParamInterface<BadLine> {};

TEST_P(BadListTest, NamesTheLineAndTheField) {
  Picture("0.png", 0);
  List(std::string("{\"file\":\"0.png\",\"t_ms\":0}\n") + GetParam().line + "\n");
  EXPECT_THAT(Open(), FailsWith(ErrorCode::kBadValue,
                                AllOf(HasSubstr("line 2"), HasSubstr(GetParam().word))));
}

INSTANTIATE_TEST_SUITE_P(Lines, BadListTest,
                         testing::Values(BadLine{"{\"file\":\"0.png\"", "JSON"},
                                         BadLine{"[1]", "JSON"}, BadLine{"{\"t_ms\":1}", "file"},
                                         BadLine{"{\"file\":7,\"t_ms\":1}", "file"},
                                         BadLine{"{\"file\":\"\",\"t_ms\":1}", "file"},
                                         BadLine{"{\"file\":\"0.png\"}", "t_ms"},
                                         BadLine{"{\"file\":\"0.png\",\"t_ms\":\"1\"}", "t_ms"},
                                         BadLine{"{\"file\":\"0.png\",\"t_ms\":null}", "t_ms"},
                                         BadLine{"{\"file\":\"0.png\",\"t_ms\":NaN}", "JSON"},
                                         BadLine{"{\"file\":\"0.png\",\"t_ms\":1e300}", "t_ms"},
                                         BadLine{"{\"file\":\"0.png\",\"t_ms\":0}", "later"},
                                         BadLine{"{\"file\":\"0.png\",\"t_ms\":-5}", "later"}));

}  // namespace
}  // namespace nearpoint
