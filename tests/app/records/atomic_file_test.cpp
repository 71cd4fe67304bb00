#include "app/records/atomic_file.h"

#include <gmock/gmock.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>

#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::AllOf;
using testing::HasSubstr;

TEST(AtomicFileTest, IsThereAfterCommitAndNotBefore) {
  const TempFolder folder;
  auto file = AtomicFile::Create(folder / "a.json");
  ASSERT_THAT(file, IsOk());
  EXPECT_THAT(file->Write("one\n"), IsOk());
  EXPECT_FALSE(std::filesystem::exists(folder / "a.json"));
  EXPECT_THAT(file->Write("two\n"), IsOk());
  EXPECT_THAT(file->Commit(), IsOk());
  EXPECT_EQ(folder.Read("a.json"), "one\ntwo\n");
  EXPECT_EQ(folder.Count(), 1);
}

TEST(AtomicFileTest, LeavesNothingWithoutCommit) {
  const TempFolder folder;
  folder.Write("a.json", "before");
  {
    auto file = AtomicFile::Create(folder / "a.json");
    ASSERT_THAT(file, IsOk());
    EXPECT_THAT(file->Write(std::string(200000, 'x')), IsOk());
  }
  EXPECT_EQ(folder.Read("a.json"), "before");
  EXPECT_EQ(folder.Count(), 1);
}

TEST(AtomicFileTest, ReplacesWhatWasThere) {
  const TempFolder folder;
  folder.Write("a.json", "a longer text from before");
  EXPECT_THAT(WriteFileAtomically(folder / "a.json", "new"), IsOk());
  EXPECT_EQ(folder.Read("a.json"), "new");
}

TEST(AtomicFileTest, KeepsALinkALink) {
  const TempFolder folder;
  folder.Write("real.json", "old");
  std::filesystem::create_symlink("real.json", folder / "link.json");
  EXPECT_THAT(WriteFileAtomically(folder / "link.json", "new"), IsOk());
  EXPECT_TRUE(std::filesystem::is_symlink(folder / "link.json"));
  EXPECT_EQ(folder.Read("real.json"), "new");
}

TEST(AtomicFileTest, SaysWhyItCannotWrite) {
  const TempFolder folder;
  folder.Write("plain", "");
  EXPECT_THAT(WriteFileAtomically(folder / "none/a.json", "x"),
              FailsWith(ErrorCode::kNotWritable,
                        AllOf(HasSubstr("none/a.json"), HasSubstr("folder does not exist"))));
  EXPECT_THAT(WriteFileAtomically(folder / "plain/a.json", "x"),
              FailsWith(ErrorCode::kNotWritable, HasSubstr("not a folder")));
  EXPECT_THAT(WriteFileAtomically(folder.path().string(), "x"),
              FailsWith(ErrorCode::kNotWritable, HasSubstr("it is a folder")));
}

TEST(AtomicFileTest, SaysThatTheDiskIsFull) {
  // A device that is always full; it is not a regular file and is written to directly.
  EXPECT_THAT(WriteFileAtomically("/dev/full", "x"),
              FailsWith(ErrorCode::kNotWritable, HasSubstr("disk is full")));
  EXPECT_THAT(WriteFileAtomically("/dev/null", "x"), IsOk());
}

// A limit of the size of files stands in for a disk that fills up in the middle.
TEST(AtomicFileTest, LeavesTheOldFileWhereTheNewOneDoesNotFit) {
  const TempFolder folder;
  folder.Write("a.json", "before");
  rlimit old_limit{};
  ASSERT_EQ(getrlimit(RLIMIT_FSIZE, &old_limit), 0);
  const auto old_action = std::signal(SIGXFSZ, SIG_IGN);
  const rlimit small{100000, old_limit.rlim_max};
  ASSERT_EQ(setrlimit(RLIMIT_FSIZE, &small), 0);
  auto file = AtomicFile::Create(folder / "a.json");
  ASSERT_THAT(file, IsOk());
  Result<void> written;
  for (int i = 0; i < 10 && written; ++i) written = file->Write(std::string(50000, 'x'));
  const auto committed = file->Commit();
  setrlimit(RLIMIT_FSIZE, &old_limit);
  std::signal(SIGXFSZ, old_action);
  EXPECT_THAT(written,
              FailsWith(ErrorCode::kNotWritable, AllOf(HasSubstr("a.json"), HasSubstr("larger"))));
  EXPECT_THAT(committed, FailsWith(ErrorCode::kNotWritable, HasSubstr("a.json")));
  EXPECT_EQ(folder.Read("a.json"), "before");
  EXPECT_EQ(folder.Count(), 1);
}

}  // namespace
}  // namespace nearpoint
