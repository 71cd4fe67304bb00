#include "vision/camera/live_source.h"

#include <gmock/gmock.h>

#include <condition_variable>
#include <deque>
#include <mutex>

#include "tests/support/frames.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using testing::HasSubstr;

// The test decides when the camera delivers, and can wait until what it delivered was taken over.
struct Feed {
  std::mutex mutex;
  std::condition_variable changed;
  std::deque<Result<CaptureDevice::Shot>> shots;
  int asked = 0;  // calls of Grab() so far
  bool closed = false;

  void Give(Result<CaptureDevice::Shot> shot) {
    const std::scoped_lock lock(mutex);
    shots.push_back(std::move(shot));
    changed.notify_all();
  }
  // Until the thread came back for another one this often: everything before is in the source by
  // then.
  void WaitUntilAsked(int times) {
    std::unique_lock lock(mutex);
    changed.wait(lock, [&] { return asked >= times; });
  }
  void Close() {
    const std::scoped_lock lock(mutex);
    closed = true;
    changed.notify_all();
  }
};

class FakeCamera final : public CaptureDevice {
 public:
  explicit FakeCamera(std::shared_ptr<Feed> feed) : feed_(std::move(feed)) {}
  Result<Shot> Grab() override {
    std::unique_lock lock(feed_->mutex);
    ++feed_->asked;
    feed_->changed.notify_all();
    feed_->changed.wait(lock, [&] { return !feed_->shots.empty() || feed_->closed; });
    if (feed_->shots.empty()) return Fail(ErrorCode::kUnavailable, "closed.");
    auto shot = std::move(feed_->shots.front());
    feed_->shots.pop_front();
    return shot;
  }

 private:
  std::shared_ptr<Feed> feed_;
};

class LiveSourceTest : public testing::Test {
 protected:
  ~LiveSourceTest() override { feed_->Close(); }

  void Start(std::chrono::milliseconds patience = std::chrono::seconds(60)) {
    SourceInfo info;
    info.description = "camera 7";
    info.width = 96;
    info.height = 64;
    source_ =
        MakeLiveSource(std::make_unique<FakeCamera>(feed_), info, "camera 7 is silent.", patience);
  }
  static CaptureDevice::Shot Shot(int number, int width = 96) {
    return {FromMilliseconds(40.0 * number), NumberedPicture(number, width)};
  }

  std::shared_ptr<Feed> feed_ = std::make_shared<Feed>();
  std::unique_ptr<FrameSource> source_;
};

TEST_F(LiveSourceTest, GivesEachFrameToAReaderWhoKeepsUp) {
  Start();
  EXPECT_TRUE(source_->info().live);
  for (int i = 0; i < 3; ++i) {
    feed_->Give(Shot(i));
    const auto frame = source_->Next();
    ASSERT_THAT(frame, IsOk());
    EXPECT_EQ((*frame)->index(), i);
    EXPECT_EQ((*frame)->time(), FromMilliseconds(40.0 * i));
    EXPECT_EQ((*frame)->skipped_before(), 0);
    EXPECT_EQ(NumberOf((*frame)->bgr()), i);
  }
}

TEST_F(LiveSourceTest, GivesTheNewestToASlowReaderAndCountsTheRest) {
  Start();
  feed_->Give(Shot(0));
  ASSERT_THAT(source_->Next(), IsOk());
  for (int i = 1; i < 5; ++i) feed_->Give(Shot(i));
  feed_->WaitUntilAsked(6);
  const auto frame = source_->Next();
  ASSERT_THAT(frame, IsOk());
  EXPECT_EQ((*frame)->index(), 4);
  EXPECT_EQ((*frame)->skipped_before(), 3);
  EXPECT_EQ(NumberOf((*frame)->bgr()), 4);
  feed_->Give(Shot(5));
  const auto next = source_->Next();
  ASSERT_THAT(next, IsOk());
  EXPECT_EQ((*next)->index(), 5);
  EXPECT_EQ((*next)->skipped_before(), 0);
}

TEST_F(LiveSourceTest, WhatComesBeforeTheFirstQuestionIsNotALoss) {
  Start();
  for (int i = 0; i < 4; ++i) feed_->Give(Shot(i));
  feed_->WaitUntilAsked(5);
  const auto frame = source_->Next();
  ASSERT_THAT(frame, IsOk());
  EXPECT_EQ(NumberOf((*frame)->bgr()), 3) << "not the newest";
  EXPECT_EQ((*frame)->index(), 0);
  EXPECT_EQ((*frame)->skipped_before(), 0);
}

TEST_F(LiveSourceTest, CountsWhatTheCameraDamaged) {
  Start();
  feed_->Give(Shot(0));
  ASSERT_THAT(source_->Next(), IsOk());
  auto shot = Shot(3);
  shot.lost_before = 2;
  feed_->Give(std::move(shot));
  const auto frame = source_->Next();
  ASSERT_THAT(frame, IsOk());
  EXPECT_EQ((*frame)->index(), 3);
  EXPECT_EQ((*frame)->skipped_before(), 2);
}

TEST_F(LiveSourceTest, FailsWhenTheCameraFallsSilentAndStaysFailed) {
  Start(std::chrono::milliseconds(20));
  EXPECT_THAT(source_->Next(), FailsWith(ErrorCode::kUnavailable, HasSubstr("silent")));
  feed_->Give(Shot(0));
  feed_->WaitUntilAsked(1);
  EXPECT_THAT(source_->Next(), FailsWith(ErrorCode::kUnavailable, HasSubstr("silent")));
}

TEST_F(LiveSourceTest, GivesTheLastFrameAndThenTheErrorOfTheCamera) {
  Start();
  feed_->Give(Shot(0));
  ASSERT_THAT(source_->Next(), IsOk());
  feed_->Give(Fail(ErrorCode::kUnavailable, "camera 7 was unplugged."));
  EXPECT_THAT(source_->Next(), FailsWith(ErrorCode::kUnavailable, HasSubstr("unplugged")));
  EXPECT_THAT(source_->Next(), FailsWith(ErrorCode::kUnavailable, HasSubstr("unplugged")));
}

TEST_F(LiveSourceTest, RefusesAPictureOfAnotherSize) {
  Start();
  feed_->Give(Shot(0, 48));
  EXPECT_THAT(source_->Next(), FailsWith(ErrorCode::kUnavailable, HasSubstr("48x64")));
}

}  // namespace
}  // namespace nearpoint
