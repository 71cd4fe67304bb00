#include "app/records/file_set.h"

#include <gmock/gmock.h>
#include <sys/resource.h>

#include <csignal>
#include <filesystem>
#include <vector>

#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

TEST(WriteFilesTogetherTest, WritesAllAndLeavesNothingElse) {
  const TempFolder folder;
  folder.Write("a.csv", "before");
  const std::vector<NamedText> files{{"a.csv", "one\n"}, {"b.csv", "two\n"}};
  ASSERT_THAT(WriteFilesTogether(folder.path().string(), files), IsOk());
  EXPECT_EQ(folder.Read("a.csv"), "one\n");
  EXPECT_EQ(folder.Read("b.csv"), "two\n");
  EXPECT_EQ(folder.Count(), 2);
}

TEST(WriteFilesTogetherTest, AFileThatFindsNoRoomKeepsBackTheOthers) {
  const TempFolder folder;
  folder.Write("a.csv", "before");
  rlimit old{};
  getrlimit(RLIMIT_FSIZE, &old);
  const rlimit small{1000, old.rlim_max};
  const auto handler = std::signal(SIGXFSZ, SIG_IGN);
  setrlimit(RLIMIT_FSIZE, &small);
  const std::vector<NamedText> files{{"a.csv", "short\n"}, {"b.csv", std::string(2000, 'x')}};
  const auto written = WriteFilesTogether(folder.path().string(), files);
  setrlimit(RLIMIT_FSIZE, &old);
  std::signal(SIGXFSZ, handler);
  EXPECT_THAT(written, FailsWith(ErrorCode::kNotWritable,
                                 AllOf(HasSubstr(folder / "b.csv"), HasSubstr("larger"))));
  EXPECT_EQ(folder.Read("a.csv"), "before");
  EXPECT_EQ(folder.Count(), 1);
}

TEST(WriteFilesTogetherTest, NamesWhatIsInTheWay) {
  const TempFolder folder;
  const std::vector<NamedText> files{{"a.csv", "one\n"}, {"b.csv", "two\n"}};
  EXPECT_THAT(WriteFilesTogether(folder / "none", files),
              FailsWith(ErrorCode::kNotWritable, HasSubstr(folder / "none")));
  std::filesystem::create_directory(folder.path() / "b.csv");
  EXPECT_THAT(WriteFilesTogether(folder.path().string(), files),
              FailsWith(ErrorCode::kNotWritable, HasSubstr(folder / "b.csv")));
  EXPECT_EQ(folder.Count(), 1);
}

}  // namespace
}  // namespace nearpoint
