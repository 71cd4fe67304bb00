// nearpoint_bench_speed: a followed frame against finding the face and its landmarks afresh, at
// 1280x720 on one core, on the same pictures in the same run. Google Benchmark prints the table;
// ratios of one run count, the machine is noisy.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "models/landmark_model.h"
#include "tests/bench/looped_source.h"
#include "vision/eyes/skin_anchor.h"
#include "vision/face/face_finder.h"
#include "vision/pipeline/tracker.h"

namespace {

using namespace nearpoint;  // NOLINT

const std::vector<Frame>& FramesAt(int distance_mm) {
  static const std::vector<Frame> far =
      bench::DrawFrames(bench::SteadyPatient(Length::Millimeters(400)), 30);
  static const std::vector<Frame> near =
      bench::DrawFrames(bench::SteadyPatient(Length::Millimeters(90)), 30);
  return distance_mm > 150 ? far : near;
}

void FullFrameFaceAndLandmarks(benchmark::State& state) {
  cv::setNumThreads(1);
  const auto model = FindLandmarkModel();
  const auto finder = FaceFinder::Load(model ? *model : "");
  if (!finder) return state.SkipWithError("no landmark model");
  const auto& frames = FramesAt(400);
  std::int64_t i = 0;
  for (auto _ : state) {
    cv::Mat grey;
    cv::cvtColor(bench::Looped(frames, i++).bgr(), grey, cv::COLOR_BGR2GRAY);
    const auto box = finder->Detect(grey, 1);
    if (!box) return state.SkipWithError("no face found");
    benchmark::DoNotOptimize(finder->Fit(grey, *box));
  }
}
BENCHMARK(FullFrameFaceAndLandmarks)->Unit(benchmark::kMillisecond)->MinTime(3);

void FollowedFrame(benchmark::State& state) {
  cv::setNumThreads(1);
  const auto model = FindLandmarkModel();
  const auto options =
      bench::SteadyPatient(Length::Millimeters(static_cast<double>(state.range(0))));
  auto tracker =
      Tracker::Create(simulate::TrueProfile(options),
                      {model ? *model : "", *FindEyeFinderModel(), *FindEyeReaderModel()});
  if (!tracker) return state.SkipWithError("no landmark model");
  const auto& frames = FramesAt(static_cast<int>(state.range(0)));
  std::int64_t i = 0;
  for (; i < 10; ++i) (void)tracker->Process(bench::Looped(frames, i));
  std::vector<double> ms;
  std::int64_t lost = 0;
  for (auto _ : state) {
    const Frame frame = bench::Looped(frames, i++);
    const auto start = std::chrono::steady_clock::now();
    const auto sample = tracker->Process(frame);
    ms.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
                     .count());
    lost += !sample || !sample->distance;
  }
  std::sort(ms.begin(), ms.end());
  state.counters["p99_ms"] = ms[ms.size() * 99 / 100];
  state.counters["worst_ms"] = ms.back();
  state.counters["lost"] = static_cast<double>(lost);
  state.counters["frames_per_s"] =
      benchmark::Counter(static_cast<double>(ms.size()), benchmark::Counter::kIsRate);
}
BENCHMARK(FollowedFrame)
    ->ArgName("mm")
    ->Arg(400)
    ->Arg(90)
    ->Unit(benchmark::kMillisecond)
    ->MinTime(3);

// What the turn of the eyes costs beside the distance: the patch of skin, registered once a frame.
// Its share of FollowedFrame/mm:90 is the figure.
void SkinPatchOfAFrame(benchmark::State& state) {
  cv::setNumThreads(1);
  const auto& frames = FramesAt(90);
  std::vector<cv::Mat> grey(frames.size());
  for (std::size_t i = 0; i < frames.size(); ++i)
    cv::cvtColor(frames[i].bgr(), grey[i], cv::COLOR_BGR2GRAY);
  const Eigen::Vector2d between_eyes(640, 360);
  constexpr double kWidth = 300;  // pixels, as the tracker cuts it at this distance
  const auto patch = CutSkinPatch(grey.front(), between_eyes, kWidth);
  if (!patch) return state.SkipWithError("no patch");
  std::size_t i = 0, found = 0;
  for (auto _ : state) {
    const auto place = FindSkinPatch(grey[i++ % grey.size()], *patch, between_eyes, 1, 0);
    found += place.has_value();
    benchmark::DoNotOptimize(place);
  }
  state.counters["found"] = static_cast<double>(found) / static_cast<double>(i);
}
BENCHMARK(SkinPatchOfAFrame)->Unit(benchmark::kMillisecond)->MinTime(1);

}  // namespace

BENCHMARK_MAIN();
