// nearpoint_bench_memory [MINUTES]: tracks a source of so many minutes (10) at 30 frames a second
// through the read-ahead thread and prints the peak of the process's memory at 1 minute and at the
// end: it must not grow.
#include <sys/resource.h>

#include <cstdio>
#include <cstdlib>
#include <memory>

#include "models/landmark_model.h"
#include "tests/bench/looped_source.h"
#include "vision/camera/prefetch_source.h"
#include "vision/pipeline/tracker.h"

namespace {

using namespace nearpoint;  // NOLINT

class LongSource : public FrameSource {
 public:
  LongSource(std::vector<Frame> frames, std::int64_t count)
      : frames_(std::move(frames)), count_(count) {
    info_.description = "looped patient";
    info_.width = 1280;
    info_.height = 720;
  }
  [[nodiscard]] const SourceInfo& info() const override { return info_; }
  [[nodiscard]] Result<std::optional<Frame>> Next() override {
    if (next_ == count_) return std::optional<Frame>{};
    const Frame shared = bench::Looped(frames_, next_++);
    return Frame(shared.index(), shared.time(),
                 shared.bgr().clone());  // as a camera gives them: each its own pixels
  }

 private:
  std::vector<Frame> frames_;
  std::int64_t count_, next_ = 0;
  SourceInfo info_;
};

double PeakMiB() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

}  // namespace

int main(int argc, char** argv) {
  const std::int64_t minutes = argc > 1 ? std::atoi(argv[1]) : 10;
  const auto options = bench::SteadyPatient(Length::Millimeters(200));
  auto frames = bench::DrawFrames(options, 60);
  const auto model = FindLandmarkModel();
  auto tracker =
      Tracker::Create(simulate::TrueProfile(options),
                      {model ? *model : "", *FindEyeFinderModel(), *FindEyeReaderModel()});
  if (!tracker) {
    std::fprintf(stderr, "%s\n", tracker.error().message.c_str());
    return 1;
  }
  auto source = ReadAhead(std::make_unique<LongSource>(std::move(frames), minutes * 1800));
  std::int64_t seen = 0, valid = 0;
  while (true) {
    const auto frame = source->Next();
    if (!frame || !*frame) break;
    const auto sample = tracker->Process(**frame);
    valid += sample && sample->distance;
    if (++seen == 1800) std::printf("peak at  1 minute: %.1f MiB\n", PeakMiB());
  }
  std::printf("peak at %2ld minutes: %.1f MiB (%ld frames, %ld with a distance)\n",
              static_cast<long>(minutes), PeakMiB(), static_cast<long>(seen),
              static_cast<long>(valid));
  return 0;
}
