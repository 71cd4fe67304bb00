#include "vision/camera/v4l2_device.h"

#include <fcntl.h>
#include <linux/videodev2.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>

namespace nearpoint {
namespace {

class Descriptor {
 public:
  explicit Descriptor(const std::string& device)
      : fd_(open(device.c_str(), O_RDWR | O_NONBLOCK | O_CLOEXEC)) {}
  ~Descriptor() {
    if (fd_ >= 0) close(fd_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int get() const { return fd_; }

 private:
  int fd_;
};

// On failure errno says why.
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

bool Holds(const v4l2_frmsize_stepwise& range, ImageSize size) {
  const auto fits = [](std::uint32_t value, std::uint32_t least, std::uint32_t most,
                       std::uint32_t step) {
    return value >= least && value <= most && (step == 0 || (value - least) % step == 0);
  };
  return fits(static_cast<std::uint32_t>(size.width), range.min_width, range.max_width,
              range.step_width) &&
         fits(static_cast<std::uint32_t>(size.height), range.min_height, range.max_height,
              range.step_height);
}

std::vector<ImageSize> SizesOf(const v4l2_frmsizeenum& offer, std::optional<ImageSize> wanted) {
  if (offer.type == V4L2_FRMSIZE_TYPE_DISCRETE) {
    return {{static_cast<int>(offer.discrete.width), static_cast<int>(offer.discrete.height)}};
  }
  const v4l2_frmsize_stepwise& range = offer.stepwise;
  const ImageSize largest{static_cast<int>(range.max_width), static_cast<int>(range.max_height)};
  std::vector<ImageSize> sizes{largest};
  constexpr std::array kUsual{ImageSize{1920, 1080}, ImageSize{1280, 720}, ImageSize{640, 480}};
  for (const ImageSize size : kUsual) {
    if (Holds(range, size)) sizes.push_back(size);
  }
  if (wanted && Holds(range, *wanted)) sizes.push_back(*wanted);
  return sizes;
}

Error CannotOpen(int code, const std::string& device, const std::string& name) {
  switch (code) {
    case EACCES:
    case EPERM:
      return {ErrorCode::kUnavailable,
              name + " may not be used by this user; add the user to the group \"video\"."};
    case EBUSY:
      return InUse(name);
    default:
      return {ErrorCode::kNotFound, "There is no " + name + " (" + device + "); is it plugged in?"};
  }
}

}  // namespace

Error InUse(const std::string& name) {
  return {ErrorCode::kUnavailable, name + " is in use by another program; close it first."};
}

Result<std::vector<CameraMode>> ListModes(const std::string& device, const std::string& name,
                                          std::optional<ImageSize> wanted) {
  const Descriptor file(device);
  if (file.get() < 0) return tl::unexpected(CannotOpen(errno, device, name));
  v4l2_capability capability{};
  const bool answers = Query(file.get(), VIDIOC_QUERYCAP, &capability);
  const std::uint32_t abilities = (capability.capabilities & V4L2_CAP_DEVICE_CAPS) != 0
                                      ? capability.device_caps
                                      : capability.capabilities;
  if (!answers || (abilities & V4L2_CAP_VIDEO_CAPTURE) == 0) {
    return Fail(ErrorCode::kNotFound,
                device + " gives no pictures: it is not a camera; try another number.");
  }
  std::vector<CameraMode> modes;
  for (const std::uint32_t format : {V4L2_PIX_FMT_MJPEG, V4L2_PIX_FMT_YUYV}) {
    v4l2_frmsizeenum offer{};
    offer.pixel_format = format;
    for (; Query(file.get(), VIDIOC_ENUM_FRAMESIZES, &offer); ++offer.index) {
      for (const ImageSize size : SizesOf(offer, wanted)) {
        modes.push_back(
            {size, HighestRate(file.get(), format, size), format == V4L2_PIX_FMT_MJPEG});
      }
      if (offer.type != V4L2_FRMSIZE_TYPE_DISCRETE) break;  // a range stands alone
    }
  }
  return modes;
}

bool IsInUse(const std::string& device) {
  const Descriptor file(device);
  if (file.get() < 0) return errno == EBUSY;
  v4l2_format format{};
  format.type = V4L2_BUF_TYPE_VIDEO_CAPTURE;
  if (!Query(file.get(), VIDIOC_G_FMT, &format)) return errno == EBUSY;
  if (!Query(file.get(), VIDIOC_S_FMT, &format) && errno == EBUSY) return true;
  v4l2_requestbuffers buffers{};
  buffers.count = 2;
  buffers.type = V4L2_BUF_TYPE_VIDEO_CAPTURE;
  buffers.memory = V4L2_MEMORY_MMAP;
  if (!Query(file.get(), VIDIOC_REQBUFS, &buffers)) return errno == EBUSY;
  int type = V4L2_BUF_TYPE_VIDEO_CAPTURE;
  return !Query(file.get(), VIDIOC_STREAMON, &type) && errno == EBUSY;
}

}  // namespace nearpoint
