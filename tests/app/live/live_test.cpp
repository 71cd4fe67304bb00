// The vision thread and its queue, with sources that do what a test wants.
#include "app/live/live.h"

#include <gmock/gmock.h>

#include <QCoreApplication>
#include <cmath>
#include <thread>

#include "app/live/camera_list.h"
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
  GreySource(std::int64_t count, std::optional<Error> then) : count_(count), then_(then) {
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

OpenLiveSource Grey(std::int64_t count, bool simulated, std::optional<Error> then = {}) {
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
    QObject::connect(&live, &Live::Failed, &live, [this](const Error& e) { error = e; });
  }
  bool started = false;
  std::vector<std::int64_t> frames;
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
  live.Start(Grey(5, true, Error{ErrorCode::kUnavailable, "camera 0 was unplugged."}));
  ASSERT_TRUE(RunUntil([&] { return heard.error.has_value(); }));
  EXPECT_THAT(heard.error->message, HasSubstr("unplugged"));
  heard.error.reset();
  heard.frames.clear();
  live.Start(Grey(5, true));
  ASSERT_TRUE(RunUntil([&] { return heard.error.has_value(); }));
  EXPECT_EQ(heard.frames.size(), 5u);
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
  live.Start(Grey(1'000'000, true));
  // Nobody handles events, so the thread waits for room.
  live.Stop();
  EXPECT_FALSE(live.running());
}

// A window that does not look: a camera's oldest frames are dropped and counted, the newest kept.
TEST(LiveWorkerTest, BoundsTheQueueOfACameraAndCountsWhatItDrops) {
  LiveWorker worker(Grey(500, false), {}, EyeStrips::kNone, [] {});
  while (!worker.ended()) std::this_thread::yield();
  const auto items = worker.TakeAll();
  EXPECT_LE(items.size(), 65u);
  const LiveFacts facts = worker.facts();
  EXPECT_EQ(facts.frames, 500);
  std::vector<std::int64_t> numbers;
  for (const LiveItem& item : items) {
    if (const auto* frame = std::get_if<LiveFrame>(&item)) numbers.push_back(frame->sample.frame);
  }
  ASSERT_FALSE(numbers.empty());
  EXPECT_GE(facts.missing, 500 - static_cast<std::int64_t>(numbers.size()) - 1);
  EXPECT_EQ(numbers.back(), 499);
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
