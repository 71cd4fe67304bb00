#include "vision/camera/prefetch_source.h"

#include <gmock/gmock.h>

#include <atomic>

#include "tests/support/frames.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

class Counting final : public FrameSource {
 public:
  Counting(int count, bool fails, std::atomic<int>* given)
      : count_(count), fails_(fails), given_(given) {}
  const SourceInfo& info() const override { return info_; }
  Result<std::optional<Frame>> Next() override {
    if (next_ == count_) {
      if (fails_) return Fail(ErrorCode::kUnavailable, "gone.");
      return std::optional<Frame>();
    }
    ++*given_;
    info_.unreadable = next_;
    const int number = next_++;
    return std::optional<Frame>(std::in_place, number, FromMilliseconds(10.0 * number),
                                NumberedPicture(number));
  }

 private:
  int count_;
  bool fails_;
  std::atomic<int>* given_;
  int next_ = 0;
  SourceInfo info_;
};

TEST(ReadAheadTest, GivesTheSameFramesInTheSameOrder) {
  std::atomic<int> given = 0;
  const auto source = ReadAhead(std::make_unique<Counting>(20, false, &given), 3);
  for (int i = 0; i < 20; ++i) {
    const auto frame = source->Next();
    ASSERT_THAT(frame, IsOk());
    EXPECT_EQ((*frame)->index(), i);
    EXPECT_EQ(source->info().unreadable,
              i);  // as it was at this frame, not where the thread is by now
    EXPECT_LE(given.load(), i + 1 + 3 + 1) << "more frames wait than agreed";
  }
  for (int i = 0; i < 2; ++i) {
    const auto end = source->Next();
    ASSERT_THAT(end, IsOk());
    EXPECT_FALSE(end->has_value());
  }
}

TEST(ReadAheadTest, GivesTheErrorAfterTheFramesBeforeIt) {
  std::atomic<int> given = 0;
  const auto source = ReadAhead(std::make_unique<Counting>(2, true, &given));
  EXPECT_THAT(source->Next(), IsOk());
  EXPECT_THAT(source->Next(), IsOk());
  EXPECT_THAT(source->Next(), FailsWith(ErrorCode::kUnavailable, HasSubstr("gone")));
  EXPECT_THAT(source->Next(), FailsWith(ErrorCode::kUnavailable, HasSubstr("gone")));
}

TEST(ReadAheadTest, EndsBeforeItsReaderReachedTheEnd) {
  std::atomic<int> given = 0;
  auto source = ReadAhead(std::make_unique<Counting>(1000, false, &given), 2);
  EXPECT_THAT(source->Next(), IsOk());
  source.reset();  // must neither hang nor read on
  EXPECT_LT(given.load(), 1000);
}

}  // namespace
}  // namespace nearpoint
