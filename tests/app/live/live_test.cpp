// The vision thread and its queue, with sources that do what a test wants.
#include "app/live/live.h"

#include <gmock/gmock.h>

#include <QCoreApplication>
#include <chrono>
#include <cmath>
#include <stop_token>
#include <thread>
#include <utility>

#include "app/live/camera_list.h"
#include "app/live/live_queue.h"
#include "app/live/open_camera.h"
#include "app/live/practice_patient.h"
#include "app/live/preview.h"
#include "app/live/worker.h"
#include "tests/app/window/press_driver.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;

// Grey pictures, as fast as they are asked for, until a number of them or an error.
class GreySource : public FrameSource {
 public:
  GreySource(std::int64_t count, std::optional<Error> then)
      : count_(count), then_(std::move(then)) {
    info_.description = "grey";
    info_.width = 160;
    info_.height = 120;
  }
  [[nodiscard]] const SourceInfo& info() const override { return info_; }
  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    if (next_ >= count_) {
      if (then_) return tl::unexpected(*then_);
      return std::optional<Frame>();
    }
    const Time time = FromMilliseconds(static_cast<double>(next_) * 33);
    return std::optional(Frame(next_++, time, cv::Mat(120, 160, CV_8UC3, cv::Scalar::all(128))));
  }

 private:
  std::int64_t count_;
  std::optional<Error> then_;
  SourceInfo info_;
  std::int64_t next_ = 0;
};

OpenLiveSource Grey(std::int64_t count, bool simulated, const std::optional<Error>& then = {}) {
  return [=]() -> Result<LiveSource> {
    LiveSource source;
    source.frames = std::make_unique<GreySource>(count, then);
    source.profile.camera = OrdinaryWebcam(160, 120);
    source.simulated = simulated;
    return source;
  };
}

struct Heard {
  explicit Heard(Live& live) {
    QObject::connect(&live, &Live::Started, &live, [this] { started = true; });
    QObject::connect(&live, &Live::FrameArrived, &live,
                     [this](const LiveFrame& frame) { frames.push_back(frame.sample.frame); });
    QObject::connect(&live, &Live::Looked, &live, [this] { ++looks; });
    QObject::connect(&live, &Live::Failed, &live, [this](const Error& e) { error = e; });
  }
  bool started = false;
  std::vector<std::int64_t> frames;
  int looks = 0;
  std::optional<Error> error;
};

TEST(LiveTest, DeliversEveryFrameOfASimulatedPatientInOrder) {
  Live live;
  Heard heard(live);
  live.Start(Grey(200, true));
  ASSERT_TRUE(RunUntil([&] { return heard.error.has_value(); }));
  EXPECT_TRUE(heard.started);
  ASSERT_EQ(heard.frames.size(), 200u);
  for (std::size_t i = 0; i < heard.frames.size(); ++i) {
    EXPECT_EQ(heard.frames[i], static_cast<std::int64_t>(i));
  }
  EXPECT_EQ(heard.error->code, ErrorCode::kUnavailable);
  EXPECT_FALSE(live.running());
}

// Pictures of the eyes come when they are asked for, and by default never.
TEST(LiveTest, StripsOfTheEyesComeOnlyWhenTheyAreAskedFor) {
  PracticeOptions options = DefaultPractice();
  options.patient.optics.camera = simulate::PinholeCamera(640, 360, Angle::Degrees(65));
  options.real_time = false;
  const auto count = [&options](auto... strips) {
    Live live;
    int seen = 0;
    int with_strip = 0;
    QObject::connect(&live, &Live::FrameArrived, &live, [&](const LiveFrame& frame) {
      if (!frame.preview.isNull() && frame.sample.left_eye && frame.sample.right_eye) ++seen;
      if (!frame.eye_strip.empty()) ++with_strip;
    });
    live.Start(OpenPractice(options), strips...);
    EXPECT_TRUE(RunUntil([&] { return seen >= 3; }));
    return with_strip;
  };
  EXPECT_EQ(count(), 0);
  EXPECT_GE(count(EyeStrips::kWithFrames), 3);
}

TEST(LiveTest, TellsWhyASourceBrokeOffAndStartsAgain) {
  Live live;
  Heard heard(live);
  // Looking for a card loads no model.
  live.StartCard(Grey(5, true, Error{ErrorCode::kUnavailable, "camera 0 was unplugged."}),
                 CardTask::kPatternViews);
  ASSERT_TRUE(RunUntil([&] { return heard.error.has_value(); }));
  EXPECT_THAT(heard.error->message, HasSubstr("unplugged"));
  heard.error.reset();
  heard.looks = 0;
  live.StartCard(Grey(5, true), CardTask::kPatternViews);
  ASSERT_TRUE(RunUntil([&] { return heard.error.has_value(); }));
  EXPECT_EQ(heard.looks, 5);
}

TEST(LiveTest, TellsWhenASourceCannotBeOpened) {
  Live live;
  Heard heard(live);
  live.Start([]() -> Result<LiveSource> { return Fail(ErrorCode::kNotFound, "no camera."); });
  ASSERT_TRUE(RunUntil([&] { return heard.error.has_value(); }));
  EXPECT_FALSE(heard.started);
  EXPECT_EQ(heard.error->code, ErrorCode::kNotFound);
}

TEST(LiveTest, StopsAtOnceWhileTheQueueIsFull) {
  Live live;
  live.StartCard(Grey(1'000'000, true), CardTask::kPatternViews);
  // Nobody handles events, so the thread waits for room.
  live.Stop();
  EXPECT_FALSE(live.running());
}

LiveFrame Picture(std::int64_t number) {
  LiveFrame frame;
  frame.sample.frame = number;
  return frame;
}

// A window that does not look: a camera's oldest pictures are dropped and counted, the newest kept,
// and no word of the thread is lost.
TEST(LiveQueueTest, DropsTheOldestPicturesOfACameraAndNothingElse) {
  constexpr int kPictures = 500;
  constexpr int kKept = static_cast<int>(LiveQueue::kRoom) - 1;
  LiveQueue queue;
  const auto push = [&queue](LiveItem item) {
    return queue.Push({}, std::move(item), LiveQueue::WhenFull::kDropOldestPicture);
  };
  EXPECT_TRUE(push(LiveStarted()));
  for (int i = 0; i < kPictures; ++i) EXPECT_FALSE(push(Picture(i)));
  EXPECT_EQ(queue.dropped(), kPictures - kKept);
  const auto items = queue.TakeAll();
  ASSERT_EQ(items.size(), LiveQueue::kRoom);
  EXPECT_TRUE(std::holds_alternative<LiveStarted>(items.front()));
  for (int i = 0; i < kKept; ++i) {
    EXPECT_EQ(std::get<LiveFrame>(items[1 + i]).sample.frame, kPictures - kKept + i);
  }
  EXPECT_THAT(queue.TakeAll(), IsEmpty());
  EXPECT_TRUE(push(Picture(0)));  // whoever takes is told again
}

TEST(LiveQueueTest, ASimulatedPatientWaitsForRoomAndLosesNothing) {
  constexpr std::int64_t kPictures = 1000;
  LiveQueue queue;
  const std::jthread pushes([&queue](const std::stop_token& stop) {
    for (std::int64_t i = 0; i < kPictures; ++i) {
      queue.Push(stop, Picture(i), LiveQueue::WhenFull::kWait);
    }
  });
  std::int64_t next = 0;
  while (next < kPictures) {
    const auto items = queue.TakeAll();
    ASSERT_LE(items.size(), LiveQueue::kRoom);
    for (const LiveItem& item : items) {
      ASSERT_EQ(std::get<LiveFrame>(item).sample.frame, next++);
    }
    std::this_thread::yield();
  }
  EXPECT_EQ(queue.dropped(), 0);
}

TEST(LiveQueueTest, WhoWaitsForRoomIsLetGoWhenItIsToStop) {
  LiveQueue queue;
  for (std::size_t i = 0; i < LiveQueue::kRoom; ++i) {
    queue.Push({}, Picture(0), LiveQueue::WhenFull::kWait);
  }
  std::stop_source stop;
  std::jthread pushes(
      [&] { queue.Push(stop.get_token(), Picture(1), LiveQueue::WhenFull::kWait); });
  stop.request_stop();
  pushes.join();  // it would wait for ever
  EXPECT_EQ(queue.TakeAll().size(), LiveQueue::kRoom);
}

// What the queue of a camera dropped stands in the facts of the source, beside its pictures.
TEST(LiveWorkerTest, CountsWhatItsQueueDropped) {
  constexpr std::int64_t kPictures = 100;
  LiveWorker worker(Grey(kPictures, false), CardTask::kPatternViews, EyeStrips::kNone, [] {});
  while (!worker.ended()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
  const LiveFacts facts = worker.facts();
  EXPECT_EQ(facts.frames, kPictures);
  std::int64_t kept = 0;
  for (const LiveItem& item : worker.TakeAll()) {
    if (std::holds_alternative<CardLook>(item)) ++kept;
  }
  // Its last word, that the source ended, may take the room of one more.
  EXPECT_GE(kept + facts.missing, kPictures - 1);
  EXPECT_LE(kept + facts.missing, kPictures);
  EXPECT_GT(facts.missing, 0);
}

TEST(PreviewTest, MirrorsAndKeepsColours) {
  cv::Mat bgr(90, 160, CV_8UC3, cv::Scalar(0, 0, 0));
  bgr(cv::Rect(0, 0, 80, 90)) = cv::Scalar(10, 20, 200);  // red on the left
  const QImage image = MirroredPreview(bgr);
  EXPECT_EQ(image.size(), QSize(160, 90));
  EXPECT_EQ(image.pixelColor(150, 40), QColor(200, 20, 10));
  EXPECT_EQ(image.pixelColor(10, 40), QColor(0, 0, 0));
  EXPECT_EQ(MirroredPreview(cv::Mat(720, 1280, CV_8UC3)).width(), 640);
}

TEST(PreviewTest, KnowsDarkFromBright) {
  EXPECT_DOUBLE_EQ(MiddleBrightness(cv::Mat(90, 160, CV_8UC3, cv::Scalar::all(0))), 0);
  EXPECT_DOUBLE_EQ(MiddleBrightness(cv::Mat(90, 160, CV_8UC3, cv::Scalar::all(255))), 1);
}

TEST(CameraListTest, NamesEachCameraOnceInTheOrderOfItsNumber) {
  TempFolder folder;
  const auto add = [&](const std::string& file, const std::string& index, const std::string& name) {
    std::filesystem::create_directory(folder.path() / file);
    folder.Write(file + "/index", index);
    folder.Write(file + "/name", name);
  };
  add("video10", "0\n", "Desk camera\n");
  add("video2", "0\n", "Built-in camera\n");
  add("video3", "1\n", "Built-in camera\n");  // describes video2
  add("radio0", "0\n", "Radio\n");
  add("videoX", "0\n", "nonsense\n");
  EXPECT_THAT(ListCameras(folder.path().string()),
              ElementsAre(testing::AllOf(Field(&CameraName::spec, "2"),
                                         Field(&CameraName::name, "Built-in camera")),
                          Field(&CameraName::spec, "10")));
  EXPECT_THAT(ListCameras(folder / "absent"), IsEmpty());
}

// 70 degrees across the diagonal, computed: half the diagonal is the focal length times tan 35.
TEST(OrdinaryWebcamTest, HasTheStatedField) {
  const CameraIntrinsics camera = OrdinaryWebcam(1280, 720);
  const double half = std::hypot(1280, 720) / 2;
  EXPECT_NEAR(std::atan(half / camera.fx) * 180 / 3.14159265, 35, 0.01);
  EXPECT_GT(camera.focal_rel_sd, 0.05);
}

TEST(OpenCameraTest, SaysThatThereIsNone) {
  const auto source = OpenCamera("97", {}, false)();
  ASSERT_FALSE(source);
  EXPECT_EQ(source.error().code, ErrorCode::kNotFound);
}

}  // namespace
}  // namespace nearpoint
