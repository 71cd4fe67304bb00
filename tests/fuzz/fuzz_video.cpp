// Video files: what is read of one has one size, and its times rise.
#include <sys/mman.h>
#include <unistd.h>

#include "tests/fuzz/fuzz.h"
#include "vision/camera/video_file_source.h"

using namespace nearpoint;  // NOLINT

void FuzzOne(std::string_view input) {
  constexpr int kMostFrames = 50;
  const int file = memfd_create("video", MFD_CLOEXEC);
  Require(file >= 0);
  Require(write(file, input.data(), input.size()) == static_cast<ssize_t>(input.size()));
  {
    const auto source = OpenVideoFile("/proc/self/fd/" + std::to_string(file));
    Time last{};
    for (int i = 0; source && i < kMostFrames; ++i) {
      const auto frame = (*source)->Next();
      if (!frame || !*frame) break;
      const SourceInfo& info = (*source)->info();
      Require((*frame)->bgr().type() == CV_8UC3);
      Require((*frame)->bgr().cols == info.width && (*frame)->bgr().rows == info.height);
      Require(i == 0 || (*frame)->time() > last);
      last = (*frame)->time();
    }
  }
  close(file);
}
