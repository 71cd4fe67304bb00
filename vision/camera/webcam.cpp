#include "vision/camera/webcam.h"

#include <fcntl.h>
#include <linux/videodev2.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <opencv2/videoio.hpp>
#include <string>
#include <utility>
#include <vector>

#include "vision/camera/live_source.h"
#include "vision/camera/quiet_libraries.h"

namespace nearpoint {
namespace {

class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  ~Descriptor() {
    if (fd_ >= 0) close(fd_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int get() const { return fd_; }

 private:
  int fd_;
};

bool Query(int fd, unsigned long request, void* argument) {
  int code = 0;
  do {
    code = ioctl(fd, request, argument);
  } while (code == -1 && errno == EINTR);
  return code == 0;
}

// The highest rate of a size: discrete rates come as frame intervals, others as a range whose
// shortest counts.
double HighestRate(int fd, std::uint32_t format, ImageSize size) {
  double best = 0;
  v4l2_frmivalenum interval{};
  interval.pixel_format = format;
  interval.width = static_cast<std::uint32_t>(size.width);
  interval.height = static_cast<std::uint32_t>(size.height);
  for (; Query(fd, VIDIOC_ENUM_FRAMEINTERVALS, &interval); ++interval.index) {
    const v4l2_fract shortest =
        interval.type == V4L2_FRMIVAL_TYPE_DISCRETE ? interval.discrete : interval.stepwise.min;
    if (shortest.numerator > 0) {
      best = std::max(best, static_cast<double>(shortest.denominator) / shortest.numerator);
    }
    if (interval.type != V4L2_FRMIVAL_TYPE_DISCRETE) break;
  }
  return best;
}

std::vector<CameraMode> ListModes(int fd) {
  std::vector<CameraMode> modes;
  for (const std::uint32_t format : {V4L2_PIX_FMT_MJPEG, V4L2_PIX_FMT_YUYV}) {
    v4l2_frmsizeenum offer{};
    offer.pixel_format = format;
    for (; Query(fd, VIDIOC_ENUM_FRAMESIZES, &offer); ++offer.index) {
      const bool discrete = offer.type == V4L2_FRMSIZE_TYPE_DISCRETE;
      const ImageSize size{
          static_cast<int>(discrete ? offer.discrete.width : offer.stepwise.max_width),
          static_cast<int>(discrete ? offer.discrete.height : offer.stepwise.max_height)};
      modes.push_back({size, HighestRate(fd, format, size), format == V4L2_PIX_FMT_MJPEG});
      if (!discrete) break;
    }
  }
  return modes;
}

class Webcam final : public CaptureDevice {
 public:
  // Copies of a VideoCapture share the device; this one is the last.
  Webcam(const cv::VideoCapture& capture, std::string name)
      : capture_(capture), name_(std::move(name)) {}

  Result<Shot> Grab() override {
    try {
      if (capture_.grab()) {
        const Time time = std::chrono::steady_clock::now().time_since_epoch();
        cv::Mat bgr;
        if (capture_.retrieve(bgr) && !bgr.empty()) return Shot{time, bgr.clone()};
      }
    } catch (const cv::Exception&) {
      // Told apart from a plain failure by nothing that a person could use.
    }
    return Fail(ErrorCode::kUnavailable,
                name_ + " gives no more pictures: it was unplugged, or another program took it.");
  }

 private:
  cv::VideoCapture capture_;
  std::string name_;
};

Result<std::vector<CameraMode>> Inspect(const std::string& device, const std::string& name) {
  const Descriptor file(open(device.c_str(), O_RDWR | O_NONBLOCK | O_CLOEXEC));
  if (file.get() < 0) {
    switch (errno) {
      case EACCES:
      case EPERM:
        return Fail(ErrorCode::kUnavailable,
                    name + " may not be used by this user; add the user to the group \"video\".");
      case EBUSY:
        return Fail(ErrorCode::kUnavailable,
                    name + " is in use by another program; close it first.");
      default:
        return Fail(ErrorCode::kNotFound,
                    "There is no " + name + " (" + device + "); is it plugged in?");
    }
  }
  v4l2_capability capability{};
  const bool answers = Query(file.get(), VIDIOC_QUERYCAP, &capability);
  const std::uint32_t abilities = (capability.capabilities & V4L2_CAP_DEVICE_CAPS) != 0
                                      ? capability.device_caps
                                      : capability.capabilities;
  if (!answers || (abilities & V4L2_CAP_VIDEO_CAPTURE) == 0) {
    return Fail(ErrorCode::kNotFound,
                device + " gives no pictures: it is not a camera; try another number.");
  }
  return ListModes(file.get());
}

std::string Text(const ImageSize& size) {
  return std::to_string(size.width) + "x" + std::to_string(size.height);
}

struct OpenCamera {
  cv::VideoCapture capture;
  std::string name;
  ImageSize size;
};

Result<OpenCamera> Open(int number, std::optional<ImageSize> wanted) {
  const std::string name = "camera " + std::to_string(number);
  auto modes = Inspect("/dev/video" + std::to_string(number), name);
  if (!modes) return tl::unexpected(modes.error());
  const auto mode = ChooseMode(*modes, wanted);
  if (!mode && wanted && !modes->empty()) {
    return Fail(ErrorCode::kMismatch,
                name + " has no mode of " + Text(*wanted) +
                    " pixels, the size of the profile; use the profile of this camera.");
  }
  KeepLibrariesQuiet();
  // OpenCV waits ten seconds for a silent camera unless told otherwise; read once, at the first
  // camera of the process.
  setenv("OPENCV_VIDEOIO_V4L_SELECT_TIMEOUT", "2", /*overwrite=*/0);
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
  cv::Mat first;
  const auto answers = [&] {
    try {
      return capture.isOpened() && capture.read(first) && !first.empty();
    } catch (const cv::Exception&) {
      return false;
    }
  };
  if (!answers()) {
    return Fail(ErrorCode::kUnavailable,
                name + " is there but gives no picture: another program may be using it.");
  }
  const ImageSize size{first.cols, first.rows};
  if (wanted && size != *wanted) {
    return Fail(ErrorCode::kMismatch, name + " gives " + Text(size) +
                                          " pixels, the profile is for " + Text(*wanted) +
                                          "; use the profile of this camera.");
  }
  return OpenCamera{capture, name, size};
}

}  // namespace

Result<std::unique_ptr<FrameSource>> OpenWebcam(int number, std::optional<ImageSize> wanted) {
  const auto camera = Open(number, wanted);
  if (!camera) return tl::unexpected(camera.error());
  const std::string& name = camera->name;
  SourceInfo info;
  info.width = camera->size.width;
  info.height = camera->size.height;
  const double rate = camera->capture.get(cv::CAP_PROP_FPS);
  info.description = name + ", " + Text(camera->size) + " pixels";
  if (std::isfinite(rate) && rate > 0) {
    info.description +=
        " at " + std::to_string(static_cast<int>(std::lround(rate))) + " frames a second";
  }
  return MakeLiveSource(std::make_unique<Webcam>(camera->capture, name), std::move(info),
                        name + " has sent no picture for two seconds: is it still plugged in?");
}

Result<std::vector<CaptureStamp>> TimeWebcam(int number, std::optional<ImageSize> wanted,
                                             int pictures) {
  auto camera = Open(number, wanted);
  if (!camera) return tl::unexpected(camera.error());
  constexpr int kSettling = 10;  // the first pictures wait in the queue
  std::vector<CaptureStamp> stamps;
  for (int i = 0; i < kSettling + pictures; ++i) {
    bool got = false;
    double taken_ms = 0;
    try {
      got = camera->capture.grab();
      // The driver's own stamp of the picture, in OpenCV's Video4Linux.
      taken_ms = camera->capture.get(cv::CAP_PROP_POS_MSEC);
    } catch (const cv::Exception&) {
      got = false;
    }
    if (!got) {
      return Fail(ErrorCode::kUnavailable, camera->name +
                                               " gives no more pictures: it was unplugged, or "
                                               "another program took it.");
    }
    const Time arrived = std::chrono::steady_clock::now().time_since_epoch();
    if (i >= kSettling) stamps.push_back({FromMilliseconds(taken_ms), arrived});
  }
  return stamps;
}

}  // namespace nearpoint
