// One opened Video4Linux capture device as a program sees it through ioctl(): formats, a queue of
// buffers, pictures that come at a steady rate whether somebody waits for them or not. It has no
// thread: what a driver would have done meanwhile is caught up at each call.
//
// The file is an anonymous one with room for the buffers, so mmap() on it is the real one.
// Behaviour after the kernel's "Media userspace API", part I (Video for Linux), from memory.
#pragma once

#include <linux/videodev2.h>

#include <chrono>
#include <cstdint>
#include <deque>
#include <string>
#include <vector>

#include "tests/support/camera_double/scenario.h"

namespace nearpoint::camera_double {

using Clock = std::chrono::steady_clock;

class Device {
 public:
  // fd: the anonymous file, owned by the caller.
  Device(Scenario scenario, int fd);
  ~Device();
  Device(const Device&) = delete;
  Device& operator=(const Device&) = delete;

  // 0, or the errno that ioctl() fails with.
  [[nodiscard]] int Ioctl(unsigned long request, void* argument);
  // Whether select() would report the device now; also true where DQBUF would fail.
  [[nodiscard]] bool Readable();
  // When it is worth asking Readable() again.
  [[nodiscard]] Clock::time_point NextPicture() const;
  // True from the moment it was unplugged.
  [[nodiscard]] bool gone() const { return gone_; }

 private:
  struct Filled {
    std::uint32_t index;
    std::uint32_t bytes;
    std::uint32_t sequence;
    Clock::time_point stamp;
  };

  [[nodiscard]] int QueryCapability(v4l2_capability& capability) const;
  [[nodiscard]] int EnumerateFormats(v4l2_fmtdesc& format) const;
  [[nodiscard]] int EnumerateSizes(v4l2_frmsizeenum& offer) const;
  [[nodiscard]] int EnumerateIntervals(v4l2_frmivalenum& interval) const;
  [[nodiscard]] int SetFormat(v4l2_format& format, bool only_try);
  [[nodiscard]] int SetRate(v4l2_streamparm& parameters);
  [[nodiscard]] int RequestBuffers(v4l2_requestbuffers& request);
  [[nodiscard]] int QueryBuffer(v4l2_buffer& buffer) const;
  [[nodiscard]] int Queue(v4l2_buffer& buffer);
  [[nodiscard]] int Dequeue(v4l2_buffer& buffer);
  [[nodiscard]] int Start();
  int Stop();

  void CatchUp();
  [[nodiscard]] std::uint32_t Fill(std::uint32_t index, std::uint32_t sequence);
  [[nodiscard]] std::string Picture(std::uint32_t sequence) const;
  [[nodiscard]] Clock::time_point Stamp(std::uint32_t sequence) const;
  [[nodiscard]] v4l2_pix_format Pixels() const;
  [[nodiscard]] static bool Holds(const Mode& mode, std::uint32_t width, std::uint32_t height);
  void Log(const std::string& line) const;

  Scenario scenario_;
  int fd_;
  Mode mode_;
  std::uint32_t buffers_ = 0;
  std::size_t buffer_size_ = 0;
  unsigned char* memory_ = nullptr;  // all buffers, one after the other
  std::deque<std::uint32_t> queued_;
  std::deque<Filled> filled_;
  bool streaming_ = false;
  bool gone_ = false;
  Clock::time_point started_{};
  std::uint32_t sequence_ = 0;  // of the next picture
};

}  // namespace nearpoint::camera_double
