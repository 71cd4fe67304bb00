// How far the adjusted focal length is off, and whether its stated deviation is honest: rendered
// views of the card by cameras drawn at random.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "calibration/adjust_camera.h"
#include "tests/support/card_studio.h"
#include "vision/card/find_pattern.h"

namespace nearpoint {
namespace {

struct Tally {
  std::vector<double> errors, normed, stated;
  int failed = 0;
  void Print(const char* name) {
    const auto n = static_cast<double>(errors.size());
    if (errors.empty()) {
      std::printf("%-22s no result in %d runs\n", name, failed);
      return;
    }
    const auto within = [&](double k) {
      return 100 *
             static_cast<double>(std::ranges::count_if(normed, [&](double z) { return z <= k; })) /
             n;
    };
    double squares = 0, sum = 0;
    for (const double e : errors) squares += e * e / n;
    for (const double s : stated) sum += s / n;
    std::vector<double> sorted;
    for (const double e : errors) sorted.push_back(std::abs(e));
    std::ranges::sort(sorted);
    std::printf(
        "%-22s runs %4zu (failed %d)  error rms %.3f %%  p95 %.3f %%  largest %.3f %%  stated sd "
        "%.3f %%  truth within 1 sd "
        "%.1f %%  1.96 sd %.1f %%\n",
        name, errors.size(), failed, 100 * std::sqrt(squares),
        100 * sorted[static_cast<std::size_t>(0.95 * (n - 1))], 100 * sorted.back(), 100 * sum,
        within(1), within(1.96));
  }
};

void Run(int runs, int views, bool verbose) {
  Tally pattern;
  const testing::DrawnCard card = testing::PatternCard();
  for (int run = 0; run < runs; ++run) {
    std::mt19937_64 random(static_cast<std::uint64_t>(run) + 1);
    const CameraIntrinsics truth = testing::DrawCamera(random);
    std::uniform_real_distribution<double> uniform(0, 1);
    const double blur = 0.6 + 0.8 * uniform(random), noise = 1 + 2 * uniform(random);
    std::vector<CardView> seen;
    for (const testing::CardPose& pose : testing::DrawPoses(truth, views, random)) {
      testing::CardScene scene;
      scene.blur_px = blur;
      scene.noise_codes = noise;
      scene.seed = random();
      const auto view = FindPattern(TakePicture(truth, {{&card, pose}}, scene));
      if (view) seen.push_back(view->edges);
    }
    AdjustOptions options;
    options.width = truth.width;
    options.height = truth.height;
    options.card = PatternCardPrior();
    const auto adjusted = AdjustCamera(seen, options);
    if (!adjusted) {
      ++pattern.failed;
      continue;
    }
    const double e = adjusted->camera.fx / truth.fx - 1;
    pattern.errors.push_back(e);
    pattern.stated.push_back(adjusted->camera.focal_rel_sd);
    pattern.normed.push_back(std::abs(e) / adjusted->camera.focal_rel_sd);
    if (verbose) {
      std::printf(
          "  run %d f %.1f error %.3f %% sd %.3f %% rms %.3f px c %.1f %.1f k1 %.3f (%.3f) bow "
          "%.3f %.3f %.3f sd %.3f aspect %.5f sd %.5f infl %.2f\n",
          run, truth.fx, 100 * e, 100 * adjusted->camera.focal_rel_sd, adjusted->rms_px,
          adjusted->camera.cx - truth.cx, adjusted->camera.cy - truth.cy,
          adjusted->camera.distortion[0], truth.distortion[0], adjusted->bow_x_mm,
          adjusted->bow_y_mm, adjusted->twist_mm, adjusted->bow_sd_mm, adjusted->aspect,
          adjusted->aspect_sd, adjusted->views[0].inflation);
    }
  }
  pattern.Print("pattern card");
}

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  const int runs = argc > 1 ? std::atoi(argv[1]) : 200;
  const int views = argc > 2 ? std::atoi(argv[2]) : 12;
  nearpoint::Run(runs, views, argc > 3);
}
