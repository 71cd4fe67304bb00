// Puts the camera double in the place of one device file: the C library's calls that reach a camera
// are answered here for that file, and passed on for every other. Works linked into a program (its
// symbols come before those of the libraries) and loaded before one (LD_PRELOAD).
#include <dlfcn.h>
#include <fcntl.h>
#include <sys/ioctl.h>
#include <sys/mman.h>
#include <sys/select.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdarg>
#include <map>
#include <memory>
#include <mutex>
#include <thread>

#include "tests/support/camera_double/device.h"
#include "tests/support/camera_double/scenario.h"

namespace nearpoint::camera_double {
namespace {

struct Opened {
  std::mutex mutex;
  std::map<int, std::shared_ptr<Device>> devices;
  bool unplugged = false;
};

// Never destroyed: a library may close its camera after the end of main().
Opened& TheOpened() {
  static auto* opened = new Opened;
  return *opened;
}

template <typename Function>
Function Real(const char* name) {
  return reinterpret_cast<Function>(dlsym(RTLD_NEXT, name));
}

std::shared_ptr<Device> DeviceOf(int fd) {
  Opened& opened = TheOpened();
  const std::scoped_lock lock(opened.mutex);
  const auto found = opened.devices.find(fd);
  return found == opened.devices.end() ? nullptr : found->second;
}

int Fail(int code) {
  errno = code;
  return -1;
}

int OpenDouble(const Scenario& scenario) {
  if (scenario.fault == Fault::kForbidden) return Fail(EACCES);
  if (scenario.fault == Fault::kBusyOpen) return Fail(EBUSY);
  Opened& opened = TheOpened();
  const std::scoped_lock lock(opened.mutex);
  // Another scenario: somebody has plugged it in again.
  if (scenario.fault != Fault::kUnplugged) opened.unplugged = false;
  if (opened.unplugged) return Fail(ENOENT);
  const int fd = memfd_create("camera double", MFD_CLOEXEC);
  if (fd >= 0) opened.devices[fd] = std::make_shared<Device>(scenario, fd);
  return fd;
}

int Open(const char* real, const char* path, int flags, mode_t mode) {
  const Scenario scenario = ScenarioFromEnvironment();
  if (!scenario.path.empty() && scenario.path == path) return OpenDouble(scenario);
  return Real<int (*)(const char*, int, ...)>(real)(path, flags, mode);
}

bool TakesMode(int flags) { return (flags & O_CREAT) != 0 || (flags & O_TMPFILE) == O_TMPFILE; }

// The double is used by one thread at a time, as a camera is; this lock makes it so.
template <typename Work>
auto WithDevice(Device& device, const Work& work) {
  Opened& opened = TheOpened();
  const std::scoped_lock lock(opened.mutex);
  const auto result = work(device);
  opened.unplugged = opened.unplugged || device.gone();
  return result;
}

}  // namespace
}  // namespace nearpoint::camera_double

using namespace nearpoint::camera_double;  // NOLINT(google-build-using-namespace): the C names
                                           // follow

extern "C" {

int open(const char* path, int flags, ...) {
  va_list arguments;
  va_start(arguments, flags);
  // NOLINTNEXTLINE(clang-analyzer-valist.Uninitialized): it does not see va_start() here
  const mode_t mode = TakesMode(flags) ? va_arg(arguments, mode_t) : 0;
  va_end(arguments);
  return Open("open", path, flags, mode);
}

int open64(const char* path, int flags, ...) {
  va_list arguments;
  va_start(arguments, flags);
  // NOLINTNEXTLINE(clang-analyzer-valist.Uninitialized): it does not see va_start() here
  const mode_t mode = TakesMode(flags) ? va_arg(arguments, mode_t) : 0;
  va_end(arguments);
  return Open("open64", path, flags, mode);
}

int close(int fd) {
  {
    Opened& opened = TheOpened();
    const std::scoped_lock lock(opened.mutex);
    opened.devices.erase(fd);
  }
  return Real<int (*)(int)>("close")(fd);
}

int ioctl(int fd, unsigned long request, ...) noexcept {
  va_list arguments;
  va_start(arguments, request);
  void* argument = va_arg(arguments, void*);
  va_end(arguments);
  const auto device = DeviceOf(fd);
  if (!device) return Real<int (*)(int, unsigned long, ...)>("ioctl")(fd, request, argument);
  const int code =
      WithDevice(*device, [&](Device& camera) { return camera.Ioctl(request, argument); });
  return code == 0 ? 0 : Fail(code);
}

int select(int count, fd_set* read, fd_set* write, fd_set* except, timeval* timeout) {
  std::shared_ptr<Device> device;
  int watched = -1;
  for (int fd = 0; fd < count && read != nullptr && !device; ++fd) {
    if (FD_ISSET(fd, read)) device = DeviceOf(watched = fd);
  }
  if (!device) {
    return Real<int (*)(int, fd_set*, fd_set*, fd_set*, timeval*)>("select")(count, read, write,
                                                                             except, timeout);
  }
  const auto end = timeout == nullptr ? Clock::time_point::max()
                                      : Clock::now() + std::chrono::seconds(timeout->tv_sec) +
                                            std::chrono::microseconds(timeout->tv_usec);
  for (;;) {
    if (WithDevice(*device, [](Device& camera) { return camera.Readable(); })) return 1;
    if (Clock::now() >= end) {
      FD_CLR(watched, read);
      return 0;
    }
    const auto next = WithDevice(*device, [](Device& camera) { return camera.NextPicture(); });
    std::this_thread::sleep_until(std::min(end, next));
  }
}

}  // extern "C"
