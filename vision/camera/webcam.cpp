#include "vision/camera/webcam.h"

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <opencv2/videoio.hpp>
#include <string>
#include <utility>
#include <vector>

#include "vision/camera/jpeg_frame.h"
#include "vision/camera/live_source.h"
#include "vision/camera/quiet_libraries.h"
#include "vision/camera/v4l2_device.h"

namespace nearpoint {
namespace {

using Clock = std::chrono::steady_clock;

// OpenCV waits this long for a picture; a wait of nearly as long was for nothing.
constexpr const char* kSelectTimeoutSeconds = "2";
constexpr auto kSilencePatience = std::chrono::milliseconds(1900);
constexpr auto kDamagePatience = std::chrono::milliseconds(1500);

Error Silence(const std::string& name) {
  return {ErrorCode::kUnavailable,
          name + " has sent no picture for two seconds: is it still plugged in?"};
}

Error Gone(const std::string& name) {
  return {ErrorCode::kUnavailable,
          name + " gives no more pictures: it was unplugged, or another program took it."};
}

// The pictures of an opened camera, decoded. Used by one thread at a time.
class Pictures {
 public:
  // Copies of a VideoCapture share the device; this one is the last.
  Pictures(const cv::VideoCapture& capture, std::string name)
      : capture_(capture), name_(std::move(name)) {
    const int format = static_cast<int>(capture_.get(cv::CAP_PROP_FOURCC));
    jpeg_ = format == cv::VideoWriter::fourcc('M', 'J', 'P', 'G') ||
            format == cv::VideoWriter::fourcc('J', 'P', 'E', 'G');
    // OpenCV gives a picture that cannot be decoded as the one before it, so it decodes none here.
    if (jpeg_) capture_.set(cv::CAP_PROP_CONVERT_RGB, 0);
  }

  // The next whole picture; damaged ones on the way are counted.
  Result<CaptureDevice::Shot> Next() {
    const Clock::time_point start = Clock::now();
    std::int64_t damaged = 0;
    while (Grab()) {
      const Time time = Clock::now().time_since_epoch();
      cv::Mat bgr = Decode();
      if (!bgr.empty()) return CaptureDevice::Shot{time, std::move(bgr), damaged};
      ++damaged;
      if (Clock::now() - start > kDamagePatience) {
        return Fail(ErrorCode::kUnavailable,
                    name_ + " sends damaged pictures only; try another cable or another socket.");
      }
    }
    return tl::unexpected(WhyNone(start));
  }

  // The next picture's stamp by its driver, the picture itself dropped.
  Result<CaptureStamp> NextStamp() {
    const Clock::time_point start = Clock::now();
    if (!Grab()) return tl::unexpected(WhyNone(start));
    const Time arrived = Clock::now().time_since_epoch();
    // In OpenCV's Video4Linux this is the driver's own stamp of the picture.
    return CaptureStamp{FromMilliseconds(capture_.get(cv::CAP_PROP_POS_MSEC)), arrived};
  }

  [[nodiscard]] double rate() const { return capture_.get(cv::CAP_PROP_FPS); }
  void Close() { capture_.release(); }

 private:
  // OpenCV does not say why it has no picture; how long it waited does.
  [[nodiscard]] Error WhyNone(Clock::time_point asked) const {
    return Clock::now() - asked > kSilencePatience ? Silence(name_) : Gone(name_);
  }

  bool Grab() {
    try {
      return capture_.grab();
    } catch (const cv::Exception&) {
      return false;
    }
  }

  cv::Mat Decode() {
    try {
      cv::Mat picture;
      if (!capture_.retrieve(picture)) return {};
      return jpeg_ ? DecodeWholeJpeg(picture) : picture.clone();
    } catch (const cv::Exception&) {
      return {};
    }
  }

  cv::VideoCapture capture_;
  std::string name_;
  bool jpeg_ = false;
};

class Webcam final : public CaptureDevice {
 public:
  explicit Webcam(Pictures pictures) : pictures_(std::move(pictures)) {}
  Result<Shot> Grab() override { return pictures_.Next(); }

 private:
  Pictures pictures_;
};

std::string Text(const ImageSize& size) {
  return std::to_string(size.width) + "x" + std::to_string(size.height);
}

// OpenCV's capture of a device, asked for the mode; not opened where that failed.
cv::VideoCapture OpenDevice(int number, const std::optional<CameraMode>& mode) {
  KeepLibrariesQuiet();
  // OpenCV waits ten seconds for a silent camera unless told otherwise; read once, at the first
  // camera of the process.
  setenv("OPENCV_VIDEOIO_V4L_SELECT_TIMEOUT", kSelectTimeoutSeconds, /*overwrite=*/0);
  cv::VideoCapture capture;
  try {
    if (capture.open(number, cv::CAP_V4L2) && mode) {
      const int format = mode->mjpeg ? cv::VideoWriter::fourcc('M', 'J', 'P', 'G')
                                     : cv::VideoWriter::fourcc('Y', 'U', 'Y', 'V');
      capture.set(cv::CAP_PROP_FOURCC, format);
      capture.set(cv::CAP_PROP_FRAME_WIDTH, mode->size.width);
      capture.set(cv::CAP_PROP_FRAME_HEIGHT, mode->size.height);
      if (mode->frames_per_second > 0) capture.set(cv::CAP_PROP_FPS, mode->frames_per_second);
    }
  } catch (const cv::Exception&) {
    capture.release();
  }
  return capture;
}

struct OpenCamera {
  Pictures pictures;
  std::string name;
  ImageSize size;
};

Result<OpenCamera> Open(int number, std::optional<ImageSize> wanted) {
  const std::string name = "camera " + std::to_string(number);
  const std::string device = "/dev/video" + std::to_string(number);
  auto modes = ListModes(device, name, wanted);
  if (!modes) return tl::unexpected(modes.error());
  const auto mode = ChooseMode(*modes, wanted);
  if (!mode && wanted && !modes->empty()) {
    return Fail(ErrorCode::kMismatch,
                name + " has no mode of " + Text(*wanted) +
                    " pixels, the size of the profile; use the profile of this camera.");
  }
  Pictures pictures(OpenDevice(number, mode), name);
  const auto first = pictures.Next();
  if (!first) {
    pictures.Close();
    if (IsInUse(device)) return tl::unexpected(InUse(name));
    return tl::unexpected(first.error());
  }
  const ImageSize size{first->bgr.cols, first->bgr.rows};
  if (wanted && size != *wanted) {
    return Fail(ErrorCode::kMismatch, name + " gives " + Text(size) +
                                          " pixels, the profile is for " + Text(*wanted) +
                                          "; use the profile of this camera.");
  }
  return OpenCamera{std::move(pictures), name, size};
}

}  // namespace

Result<std::unique_ptr<FrameSource>> OpenWebcam(int number, std::optional<ImageSize> wanted) {
  auto camera = Open(number, wanted);
  if (!camera) return tl::unexpected(camera.error());
  SourceInfo info;
  info.width = camera->size.width;
  info.height = camera->size.height;
  const double rate = camera->pictures.rate();
  info.description = camera->name + ", " + Text(camera->size) + " pixels";
  if (std::isfinite(rate) && rate > 0) {
    info.description +=
        " at " + std::to_string(static_cast<int>(std::lround(rate))) + " frames a second";
  }
  return MakeLiveSource(std::make_unique<Webcam>(std::move(camera->pictures)), std::move(info),
                        Silence(camera->name).message);
}

Result<std::vector<CaptureStamp>> TimeWebcam(int number, std::optional<ImageSize> wanted,
                                             int pictures) {
  auto camera = Open(number, wanted);
  if (!camera) return tl::unexpected(camera.error());
  constexpr int kSettling = 10;  // the first pictures wait in the queue
  std::vector<CaptureStamp> stamps;
  for (int i = 0; i < kSettling + pictures; ++i) {
    const auto stamp = camera->pictures.NextStamp();
    if (!stamp) return tl::unexpected(stamp.error());
    if (i >= kSettling) stamps.push_back(*stamp);
  }
  return stamps;
}

}  // namespace nearpoint
