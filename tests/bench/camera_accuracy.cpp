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
#include "vision/card/find_plain_card.h"

namespace nearpoint {
namespace {

struct Tally {
  std::vector<double> errors, normed, stated;
  int failed = 0;
  void Add(double error, double sd) {
    errors.push_back(error);
    stated.push_back(sd);
    normed.push_back(std::abs(error) / sd);
  }
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

std::optional<CardView> See(const cv::Mat& picture, bool plain) {
  if (plain) {
    const auto view = FindPlainCard(picture);
    return view ? std::optional(view->edges) : std::nullopt;
  }
  const auto view = FindPattern(picture);
  return view ? std::optional(view->edges) : std::nullopt;
}

void Run(const char* name, bool plain, int runs, int views, bool verbose) {
  Tally tally;
  int lost = 0;
  for (int run = 0; run < runs; ++run) {
    std::mt19937_64 random(static_cast<std::uint64_t>(run) + 1);
    const CameraIntrinsics truth = drawn::DrawCamera(random);
    std::uniform_real_distribution<double> uniform(0, 1);
    std::normal_distribution<double> normal;
    const double blur = 0.6 + 0.8 * uniform(random), noise = 1 + 2 * uniform(random);
    drawn::DrawnCard card =
        plain ? drawn::BankCard(0.35 + 0.4 * uniform(random)) : drawn::PatternCard();
    card.wall = card.picture.at<float>(0, 0) * (0.4 + 0.8 * uniform(random));
    card.bow_mm = 0.1 * normal(random);
    card.bow_y_mm = 0.05 * normal(random);
    std::vector<CardView> seen;
    for (const drawn::CardPose& pose : drawn::DrawPoses(truth, views, random)) {
      drawn::CardScene scene;
      scene.blur_px = blur;
      scene.noise_codes = noise;
      scene.seed = random();
      if (const auto view = See(TakePicture(truth, {{&card, pose}}, scene), plain)) {
        seen.push_back(*view);
      } else {
        ++lost;
      }
    }
    AdjustOptions options;
    options.width = truth.width;
    options.height = truth.height;
    options.card = plain ? PlainCardPrior() : PatternCardPrior();
    const auto adjusted = AdjustCamera(seen, options);
    if (!adjusted) {
      ++tally.failed;
      continue;
    }
    const double e = adjusted->camera.fx / truth.fx - 1;
    tally.Add(e, adjusted->camera.focal_rel_sd);
    if (verbose) {
      std::printf(
          "  run %d f %.1f error %.3f %% sd %.3f %% rms %.3f px  centre off %.1f %.1f px  k1 %.3f "
          "(%.3f)  bow %.3f (%.3f) %.3f (%.3f) sd %.3f  aspect %.5f sd %.5f  views %zu\n",
          run, truth.fx, 100 * e, 100 * adjusted->camera.focal_rel_sd, adjusted->rms_px,
          adjusted->camera.cx - truth.cx, adjusted->camera.cy - truth.cy,
          adjusted->camera.distortion[0], truth.distortion[0], adjusted->bow_x_mm, -card.bow_mm,
          adjusted->bow_y_mm, -card.bow_y_mm, adjusted->bow_sd_mm, adjusted->aspect,
          adjusted->aspect_sd, seen.size());
    }
  }
  tally.Print(name);
  if (lost > 0) std::printf("  pictures without a card found: %d of %d\n", lost, runs * views);
}

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  const int runs = argc > 1 ? std::atoi(argv[1]) : 200;
  const int views = argc > 2 ? std::atoi(argv[2]) : 12;
  const std::string which = argc > 3 ? argv[3] : "both";
  const bool verbose = argc > 4;
  if (which != "plain") nearpoint::Run("pattern card", false, runs, views, verbose);
  if (which != "pattern") nearpoint::Run("plain card", true, runs, views, verbose);
}
