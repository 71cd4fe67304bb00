// What the camera page says of the pictures that come: light, distance, nobody there, two people,
// and a camera that is unplugged and comes back.
#include "app/window/pages/camera_page.h"

#include <gmock/gmock.h>

#include <QLabel>
#include <QPushButton>
#include <atomic>
#include <memory>
#include <opencv2/imgproc.hpp>
#include <thread>

#include "app/window/language.h"
#include "app/window/look.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"
#include "tests/app/window/unpluggable.h"
#include "vision/simulate/patient.h"

namespace nearpoint {
namespace {

constexpr int kWidth = 960;
constexpr int kHeight = 540;

simulate::PatientOptions Sitting(double mm) {
  simulate::PatientOptions person;
  person.optics.camera = simulate::PinholeCamera(kWidth, kHeight, Angle::Degrees(55));
  person.target_mm = {0, 0, 0};
  person.behaviour.start = Length::Millimeters(mm);
  person.behaviour.sway = 0;
  person.behaviour.blinks_per_minute = 0;
  return person;
}

cv::Mat PictureOf(const simulate::PatientOptions& person) {
  return (*simulate::MakePatient(person).value()->Next())->bgr();
}

// Beside the person whose picture it is, somebody twice as far away.
cv::Mat WithSomebodyBehind(const cv::Mat& picture) {
  simulate::PatientOptions behind = Sitting(900);
  behind.appearance.texture_seed = 5;
  constexpr int kPart = 300;
  cv::Mat both = picture.clone();
  PictureOf(behind)(cv::Rect((kWidth - kPart) / 2, 0, kPart, kHeight))
      .copyTo(both(cv::Rect(kWidth - kPart, 0, kPart, kHeight)));
  return both;
}

// One picture again and again, as a camera before which nothing moves.
class Still : public FrameSource {
 public:
  explicit Still(cv::Mat picture) : picture_(std::move(picture)) {
    info_.description = "a camera";
    info_.width = kWidth;
    info_.height = kHeight;
    info_.live = true;
  }
  [[nodiscard]] const SourceInfo& info() const override { return info_; }
  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
    const Time time = FromMilliseconds(66.0 * static_cast<double>(next_));
    return std::optional(Frame(next_++, time, picture_.clone()));
  }

 private:
  cv::Mat picture_;
  SourceInfo info_;
  std::int64_t next_ = 0;
};

OpenLiveSource Show(const cv::Mat& picture) {
  return [picture]() -> Result<LiveSource> {
    LiveSource source;
    source.frames = std::make_unique<Still>(picture);
    source.profile = simulate::TrueProfile(Sitting(450));
    source.simulated = true;  // every picture, in order
    return source;
  };
}

class CameraPageTest : public testing::Test {
 protected:
  CameraPageTest() {
    Person person;
    person.name = "Mira";
    EXPECT_TRUE(home_.store().AddPerson(person));
    window_ = &home_.Open();
  }
  ~CameraPageTest() override { UseLanguage("en"); }

  // All that stands beside this picture, once it has been looked at.
  QString SaidOf(const cv::Mat& picture) {
    home_.context().open_source = [picture](const AppContext&) { return Show(picture); };
    int frames = 0;
    window_->Show(PageId::kCamera);
    const auto counted = QObject::connect(&home_.live(), &Live::FrameArrived, window_,
                                          [&frames](const LiveFrame&) { ++frames; });
    EXPECT_TRUE(RunUntil([&] { return frames > 8; }));
    QObject::disconnect(counted);
    return Said();
  }
  QString Said() {
    QStringList lines;
    for (const QLabel* label : window_->page()->findChildren<QLabel*>()) {
      if (label->isVisible()) lines << label->text();
    }
    return lines.join('\n');
  }

  Home home_;
  MainWindow* window_ = nullptr;
};

TEST_F(CameraPageTest, AFaceInGoodLightAtTheUsualDistance) {
  const QString said = SaidOf(PictureOf(Sitting(450)));
  EXPECT_TRUE(said.contains("✓  Your eyes are seen."));
  EXPECT_TRUE(said.contains("✓  The light is good."));
  EXPECT_TRUE(said.contains("✓  About 45\u00a0cm away: good.")) << said.toStdString();
  UseLanguage("de");
  const QString german = SaidOf(PictureOf(Sitting(450)));
  EXPECT_TRUE(german.contains("45\u00a0cm"));
  EXPECT_FALSE(german.contains("good")) << german.toStdString();
}

TEST_F(CameraPageTest, TooNearAndTooFarSayWhichWay) {
  const QString near = SaidOf(PictureOf(Sitting(280)));
  EXPECT_TRUE(near.contains("→  About 28\u00a0cm away: lean back a little.")) << near.toStdString();
  const QString far = SaidOf(PictureOf(Sitting(800)));
  EXPECT_TRUE(far.contains("cm away: come a little nearer.")) << far.toStdString();
}

TEST_F(CameraPageTest, TooDarkAndTooBrightSayWhatToDo) {
  const cv::Mat face = PictureOf(Sitting(450));
  cv::Mat dim;
  face.convertTo(dim, -1, 0.2);
  const QString dark = SaidOf(dim);
  EXPECT_TRUE(dark.contains("→  Too dark: turn on a lamp in front of you.")) << dark.toStdString();
  EXPECT_FALSE(dark.contains("The light is good"));
  cv::Mat glaring;
  face.convertTo(glaring, -1, 1, 190);
  const QString bright = SaidOf(glaring);
  EXPECT_TRUE(bright.contains("→  Too bright: turn away from the window or lamp."))
      << bright.toStdString();
}

TEST_F(CameraPageTest, NobodyThereIsSaidAndNoDistanceIsGuessed) {
  const cv::Mat wall(kHeight, kWidth, CV_8UC3, cv::Scalar(120, 130, 140));
  const QString said = SaidOf(wall);
  EXPECT_TRUE(said.contains("→  The camera does not see your eyes. Sit in front of it"))
      << said.toStdString();
  EXPECT_TRUE(said.contains("✓  The light is good."));
  EXPECT_FALSE(said.contains("cm away"));
  // Somebody who covers the eyes has no distance either.
  cv::Mat covered = PictureOf(Sitting(450));
  cv::rectangle(covered, {kWidth / 2 - 180, kHeight / 2 - 60}, {kWidth / 2 + 180, kHeight / 2 + 60},
                cv::Scalar(90, 110, 150), cv::FILLED);
  const QString hidden = SaidOf(covered);
  EXPECT_FALSE(hidden.contains("Your eyes are seen")) << hidden.toStdString();
  EXPECT_FALSE(hidden.contains("cm away")) << hidden.toStdString();
}

// With somebody else in the picture it is the nearer of the two who is measured.
TEST_F(CameraPageTest, OfTwoFacesTheNearerCounts) {
  const QString said = SaidOf(WithSomebodyBehind(PictureOf(Sitting(450))));
  EXPECT_TRUE(said.contains("✓  Your eyes are seen.")) << said.toStdString();
  EXPECT_TRUE(said.contains("✓  About 45\u00a0cm away: good.")) << said.toStdString();
  // Alone, that other one is far away: the picture of two really shows two.
  cv::Mat alone = WithSomebodyBehind(cv::Mat(kHeight, kWidth, CV_8UC3, cv::Scalar(120, 130, 140)));
  EXPECT_TRUE(SaidOf(alone).contains("come a little nearer")) << Said().toStdString();
}

TEST_F(CameraPageTest, UnpluggedItSaysSoAndTryAgainGoesOn) {
  const auto unplugged = std::make_shared<std::atomic<bool>>(false);
  const cv::Mat face = PictureOf(Sitting(450));
  home_.context().open_source = [&](const AppContext&) {
    return OpenUnpluggable(Show(face), unplugged);
  };
  window_->Show(PageId::kCamera);
  ASSERT_TRUE(RunUntil([&] { return Said().contains("Your eyes are seen"); }));
  *unplugged = true;
  ASSERT_TRUE(RunUntil([&] { return Said().contains("It may be unplugged"); }));
  EXPECT_TRUE(Said().contains("You can go on and come back later."));
  EXPECT_FALSE(Said().contains("Your eyes are seen"));  // nothing of before is left standing
  EXPECT_FALSE(Said().contains("The light is good"));
  *unplugged = false;
  window_->page()->findChild<QPushButton*>("again")->click();
  EXPECT_FALSE(Said().contains("unplugged"));
  EXPECT_TRUE(RunUntil([&] { return Said().contains("Your eyes are seen"); }));
}

}  // namespace
}  // namespace nearpoint
