#include "tests/support/camera_double/device.h"

#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <iterator>
#include <utility>

namespace nearpoint::camera_double {
namespace {

constexpr std::uint32_t kStep = 8;
constexpr std::uint32_t kMostBuffers = 8;

// Plain pictures say which they are, as NumberedPicture() does: picture n shows 20 + 10 (n mod 20)
// in each colour. Luma of BT.601: 16 to 235.
unsigned char LumaOf(std::uint32_t sequence) {
  return static_cast<unsigned char>(16.5 + (20 + 10.0 * (sequence % 20)) * 219 / 255);
}

}  // namespace

Device::Device(Scenario scenario, int fd) : scenario_(std::move(scenario)), fd_(fd) {
  if (!scenario_.modes.empty()) mode_ = scenario_.modes.front();
}

Device::~Device() {
  Stop();
  if (memory_ != nullptr) munmap(memory_, buffers_ * buffer_size_);
}

int Device::Ioctl(unsigned long request, void* argument) {
  if (streaming_) CatchUp();
  if (gone_) return ENODEV;
  if (scenario_.fault == Fault::kNoDriver) return ENOTTY;
  switch (request) {
    case VIDIOC_QUERYCAP:
      return QueryCapability(*static_cast<v4l2_capability*>(argument));
    case VIDIOC_ENUM_FMT:
      return EnumerateFormats(*static_cast<v4l2_fmtdesc*>(argument));
    case VIDIOC_ENUM_FRAMESIZES:
      return EnumerateSizes(*static_cast<v4l2_frmsizeenum*>(argument));
    case VIDIOC_ENUM_FRAMEINTERVALS:
      return EnumerateIntervals(*static_cast<v4l2_frmivalenum*>(argument));
    case VIDIOC_G_FMT:
      static_cast<v4l2_format*>(argument)->fmt.pix = Pixels();
      return 0;
    case VIDIOC_TRY_FMT:
      return SetFormat(*static_cast<v4l2_format*>(argument), true);
    case VIDIOC_S_FMT:
      return SetFormat(*static_cast<v4l2_format*>(argument), false);
    case VIDIOC_G_PARM: {
      auto& capture = static_cast<v4l2_streamparm*>(argument)->parm.capture;
      capture.capability = V4L2_CAP_TIMEPERFRAME;
      capture.timeperframe = {1, mode_.rate};
      return 0;
    }
    case VIDIOC_S_PARM:
      return SetRate(*static_cast<v4l2_streamparm*>(argument));
    case VIDIOC_REQBUFS:
      return RequestBuffers(*static_cast<v4l2_requestbuffers*>(argument));
    case VIDIOC_QUERYBUF:
      return QueryBuffer(*static_cast<v4l2_buffer*>(argument));
    case VIDIOC_QBUF:
      return Queue(*static_cast<v4l2_buffer*>(argument));
    case VIDIOC_DQBUF:
      return Dequeue(*static_cast<v4l2_buffer*>(argument));
    case VIDIOC_STREAMON:
      return Start();
    case VIDIOC_STREAMOFF:
      return Stop();
    case VIDIOC_QUERYCTRL:  // it has no control
    case VIDIOC_G_CTRL:
    case VIDIOC_S_CTRL:
      return EINVAL;
    default:
      return ENOTTY;
  }
}

bool Device::Readable() {
  if (!streaming_) return true;
  CatchUp();
  return gone_ || !filled_.empty();
}

Clock::time_point Device::NextPicture() const {
  return Stamp(sequence_) +
         std::chrono::microseconds(static_cast<std::int64_t>(1000 * scenario_.delay_ms));
}

int Device::QueryCapability(v4l2_capability& capability) const {
  capability = {};
  std::snprintf(reinterpret_cast<char*>(capability.driver), sizeof capability.driver, "double");
  std::snprintf(reinterpret_cast<char*>(capability.card), sizeof capability.card, "Camera double");
  // The first word is of the whole camera, the second of this device file.
  capability.capabilities =
      V4L2_CAP_VIDEO_CAPTURE | V4L2_CAP_META_CAPTURE | V4L2_CAP_STREAMING | V4L2_CAP_DEVICE_CAPS;
  capability.device_caps =
      V4L2_CAP_STREAMING |
      (scenario_.fault == Fault::kMetadata ? V4L2_CAP_META_CAPTURE : V4L2_CAP_VIDEO_CAPTURE);
  return 0;
}

int Device::EnumerateFormats(v4l2_fmtdesc& format) const {
  std::vector<std::uint32_t> formats;
  for (const Mode& mode : scenario_.modes) {
    if (std::ranges::find(formats, mode.format) == formats.end()) formats.push_back(mode.format);
  }
  if (format.index >= formats.size()) return EINVAL;
  format.pixelformat = formats[format.index];
  return 0;
}

int Device::EnumerateSizes(v4l2_frmsizeenum& offer) const {
  std::vector<Mode> sizes;  // each size once, whatever its rates
  for (const Mode& mode : scenario_.modes) {
    const bool known = std::ranges::any_of(sizes, [&](const Mode& other) {
      return other.width == mode.width && other.height == mode.height;
    });
    if (mode.format == offer.pixel_format && !known) sizes.push_back(mode);
  }
  if (offer.index >= sizes.size()) return EINVAL;
  const Mode& mode = sizes[offer.index];
  if (mode.least_width == 0) {
    offer.type = V4L2_FRMSIZE_TYPE_DISCRETE;
    offer.discrete = {mode.width, mode.height};
    return 0;
  }
  if (offer.index > 0) return EINVAL;  // a range stands alone
  offer.type = V4L2_FRMSIZE_TYPE_STEPWISE;
  offer.stepwise = {mode.least_width, mode.width, kStep, mode.least_height, mode.height, kStep};
  return 0;
}

int Device::EnumerateIntervals(v4l2_frmivalenum& interval) const {
  std::uint32_t at = 0;
  for (const Mode& mode : scenario_.modes) {
    if (mode.format != interval.pixel_format || !Holds(mode, interval.width, interval.height)) {
      continue;
    }
    if (at++ != interval.index) continue;
    interval.type = V4L2_FRMIVAL_TYPE_DISCRETE;
    interval.discrete = {1, mode.rate};
    return 0;
  }
  return EINVAL;
}

int Device::SetFormat(v4l2_format& format, bool only_try) {
  if (format.type != V4L2_BUF_TYPE_VIDEO_CAPTURE) return EINVAL;
  if (!only_try && (buffers_ > 0 || scenario_.fault == Fault::kBusyFormat)) return EBUSY;
  // A driver changes what it cannot do into what it can: the format first, then the nearest size.
  Mode chosen = scenario_.modes.front();
  if (scenario_.fault != Fault::kAdjusts) {
    const auto& wish = format.fmt.pix;
    const auto far = [&](const Mode& mode) {
      const auto apart = [](std::uint32_t a, std::uint32_t b) { return a > b ? a - b : b - a; };
      const bool other = mode.format != wish.pixelformat;
      const bool inside = Holds(mode, wish.width, wish.height);
      return std::pair(
          other, inside ? 0 : apart(mode.width, wish.width) + apart(mode.height, wish.height));
    };
    chosen = *std::ranges::min_element(scenario_.modes, {}, far);
    if (Holds(chosen, wish.width, wish.height)) {
      chosen.width = wish.width;
      chosen.height = wish.height;
    }
  }
  const Mode before = std::exchange(mode_, chosen);
  format.fmt.pix = Pixels();
  if (only_try) mode_ = before;
  return 0;
}

int Device::SetRate(v4l2_streamparm& parameters) {
  if (streaming_) return EBUSY;
  auto& capture = parameters.parm.capture;
  const double wish =
      capture.timeperframe.numerator > 0
          ? static_cast<double>(capture.timeperframe.denominator) / capture.timeperframe.numerator
          : 0;
  for (const Mode& mode : scenario_.modes) {
    const bool same = mode.format == mode_.format && Holds(mode, mode_.width, mode_.height);
    const double now = mode_.rate;
    if (same && std::abs(mode.rate - wish) < std::abs(now - wish)) mode_.rate = mode.rate;
  }
  capture.capability = V4L2_CAP_TIMEPERFRAME;
  capture.timeperframe = {1, mode_.rate};
  return 0;
}

int Device::RequestBuffers(v4l2_requestbuffers& request) {
  if (request.memory != V4L2_MEMORY_MMAP) return EINVAL;
  if (scenario_.fault == Fault::kBusyBuffers) return EBUSY;
  Stop();
  if (memory_ != nullptr) munmap(std::exchange(memory_, nullptr), buffers_ * buffer_size_);
  buffers_ = std::min(request.count, kMostBuffers);
  request.count = buffers_;
  if (buffers_ == 0) return 0;
  constexpr std::size_t kPage = 4096;
  buffer_size_ = (Pixels().sizeimage + kPage - 1) / kPage * kPage;
  const std::size_t all = buffers_ * buffer_size_;
  if (ftruncate(fd_, static_cast<off_t>(all)) != 0) return ENOMEM;
  void* memory = mmap(nullptr, all, PROT_READ | PROT_WRITE, MAP_SHARED, fd_, 0);
  if (memory == MAP_FAILED) return ENOMEM;
  memory_ = static_cast<unsigned char*>(memory);
  return 0;
}

int Device::QueryBuffer(v4l2_buffer& buffer) const {
  if (buffer.index >= buffers_) return EINVAL;
  buffer.length = static_cast<std::uint32_t>(buffer_size_);
  buffer.m.offset = static_cast<std::uint32_t>(buffer.index * buffer_size_);
  buffer.flags = V4L2_BUF_FLAG_MAPPED | V4L2_BUF_FLAG_TIMESTAMP_MONOTONIC;
  return 0;
}

int Device::Queue(v4l2_buffer& buffer) {
  if (buffer.index >= buffers_ || std::ranges::find(queued_, buffer.index) != queued_.end()) {
    return EINVAL;
  }
  queued_.push_back(buffer.index);
  return 0;
}

int Device::Dequeue(v4l2_buffer& buffer) {
  if (!streaming_) return EINVAL;
  if (filled_.empty()) return EAGAIN;
  const Filled filled = filled_.front();
  filled_.pop_front();
  buffer.index = filled.index;
  if (const int code = QueryBuffer(buffer); code != 0) return code;
  buffer.flags |= V4L2_BUF_FLAG_DONE;
  buffer.bytesused = filled.bytes;
  buffer.sequence = filled.sequence;
  auto stamp =
      std::chrono::duration_cast<std::chrono::microseconds>(filled.stamp.time_since_epoch());
  if (scenario_.stamps == "realtime") {
    stamp += std::chrono::duration_cast<std::chrono::microseconds>(
        std::chrono::system_clock::now().time_since_epoch() - Clock::now().time_since_epoch());
  } else if (scenario_.stamps == "none") {
    stamp = {};
  }
  buffer.timestamp.tv_sec = stamp.count() / 1'000'000;
  buffer.timestamp.tv_usec = stamp.count() % 1'000'000;
  return 0;
}

int Device::Start() {
  if (scenario_.fault == Fault::kBusyStream) return EBUSY;
  if (buffers_ == 0) return EINVAL;
  started_ = Clock::now();
  sequence_ = 0;
  streaming_ = true;
  Log(std::string(mode_.format == V4L2_PIX_FMT_MJPEG ? "MJPG " : "YUYV ") +
      std::to_string(mode_.width) + "x" + std::to_string(mode_.height) + "@" +
      std::to_string(mode_.rate));
  return 0;
}

int Device::Stop() {
  streaming_ = false;
  queued_.clear();
  filled_.clear();
  return 0;
}

void Device::CatchUp() {
  for (; streaming_ && NextPicture() <= Clock::now(); ++sequence_) {
    const bool over = sequence_ >= static_cast<std::uint32_t>(scenario_.number);
    if (scenario_.fault == Fault::kUnplugged && over) {
      gone_ = true;
      return;
    }
    if (scenario_.fault == Fault::kSilent && over) continue;
    if (queued_.empty()) continue;  // nobody gave a buffer: the picture is lost
    const std::uint32_t index = queued_.front();
    queued_.pop_front();
    filled_.push_back({index, Fill(index, sequence_), sequence_, Stamp(sequence_)});
  }
}

std::uint32_t Device::Fill(std::uint32_t index, std::uint32_t sequence) {
  unsigned char* place = memory_ + index * buffer_size_;
  std::uint32_t bytes = 0;
  if (mode_.format == V4L2_PIX_FMT_MJPEG) {
    const std::string picture = Picture(sequence);
    bytes = static_cast<std::uint32_t>(std::min(picture.size(), buffer_size_));
    std::memcpy(place, picture.data(), bytes);
  } else {
    bytes = Pixels().sizeimage;
    const unsigned char luma = LumaOf(sequence);
    for (std::uint32_t i = 0; i < bytes; i += 2) {
      place[i] = luma;
      place[i + 1] = 128;
    }
  }
  const bool chosen =
      scenario_.number > 0 && sequence % static_cast<std::uint32_t>(scenario_.number) ==
                                  static_cast<std::uint32_t>(scenario_.number) - 1;
  if (scenario_.fault == Fault::kCut && chosen) bytes /= 2;
  if (scenario_.fault == Fault::kEmpty && chosen) bytes = 0;
  return bytes;
}

std::string Device::Picture(std::uint32_t sequence) const {
  const std::string folder = scenario_.pictures + "/" + std::to_string(mode_.width) + "x" +
                             std::to_string(mode_.height) + "/";
  const auto read = [&](std::uint32_t number) {
    std::ifstream in(folder + std::to_string(number) + ".jpg", std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(in), {});
  };
  // In a circle: back to the first after the last.
  std::uint32_t number = sequence;
  for (std::uint32_t count = 0; count <= sequence; ++count) {
    if (!std::ifstream(folder + std::to_string(count) + ".jpg")) {
      number = count > 0 ? sequence % count : 0;
      break;
    }
  }
  return read(number);
}

Clock::time_point Device::Stamp(std::uint32_t sequence) const {
  return started_ + std::chrono::microseconds(1'000'000LL * (sequence + 1) / mode_.rate);
}

v4l2_pix_format Device::Pixels() const {
  v4l2_pix_format pixels{};
  pixels.width = mode_.width;
  pixels.height = mode_.height;
  pixels.pixelformat = mode_.format;
  pixels.field = V4L2_FIELD_NONE;
  pixels.bytesperline = mode_.format == V4L2_PIX_FMT_MJPEG ? 0 : 2 * mode_.width;
  pixels.sizeimage = 2 * mode_.width * mode_.height;
  return pixels;
}

bool Device::Holds(const Mode& mode, std::uint32_t width, std::uint32_t height) {
  if (mode.least_width == 0) return mode.width == width && mode.height == height;
  return width >= mode.least_width && width <= mode.width && height >= mode.least_height &&
         height <= mode.height && (width - mode.least_width) % kStep == 0 &&
         (height - mode.least_height) % kStep == 0;
}

void Device::Log(const std::string& line) const {
  if (!scenario_.log.empty()) std::ofstream(scenario_.log, std::ios::app) << line << '\n';
}

}  // namespace nearpoint::camera_double
