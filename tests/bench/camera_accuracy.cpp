// How far the adjusted focal length is off, and whether its stated deviation is honest: rendered
// views of the card by cameras drawn at random. And what becomes of cards that are wrong (third
// argument "wrong"): refused, or the truth of what was taken.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <opencv2/imgproc.hpp>
#include <string>
#include <vector>

#include "calibration/adjust_camera.h"
#include "calibration/camera_check.h"
#include "tests/support/card_studio.h"
#include "vision/card/find_pattern.h"
#include "vision/card/find_plain_card.h"

namespace nearpoint {
namespace {

constexpr std::uint64_t kFirstSeed = 1001;

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
    std::mt19937_64 random(static_cast<std::uint64_t>(run) + kFirstSeed);
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

// What may be wrong with a card, or lie over it.
struct Fault {
  const char* name;
  void (*change)(drawn::DrawnCard& card);
  // Over the card's right upper corner or its upper edge: how bright (linear light), how wide.
  double cover_light = 0, cover_mm = 0;
  bool at_corner = true;
};

constexpr Fault kFaults[] = {
    {"none", [](drawn::DrawnCard&) {}},
    {"100 x 60 mm",
     [](drawn::DrawnCard& c) {
       c.width_mm = 100;
       c.height_mm = 60;
     }},
    {"3 % too high", [](drawn::DrawnCard& c) { c.height_mm *= 1.03; }},
    {"bent 1.5 mm", [](drawn::DrawnCard& c) { c.bow_mm = 1.5; }},
    {"bent 5 mm", [](drawn::DrawnCard& c) { c.bow_mm = 5; }},
    {"finger over a corner", [](drawn::DrawnCard&) {}, 0.35, 9, true},
    {"finger over an edge", [](drawn::DrawnCard&) {}, 0.35, 9, false},
    {"reflection on an edge", [](drawn::DrawnCard&) {}, 1.5, 7, false},
};

void RunFault(const Fault& fault, bool plain, int runs, int views) {
  std::map<std::string, int> refused;
  int taken = 0, beyond = 0, seen_views = 0;
  double worst = 0, worst_normed = 0;
  for (int run = 0; run < runs; ++run) {
    std::mt19937_64 random(static_cast<std::uint64_t>(run) + kFirstSeed);
    const CameraIntrinsics truth = drawn::DrawCamera(random);
    drawn::DrawnCard card = plain ? drawn::BankCard(0.6) : drawn::PatternCard();
    const double of_width = card.width_mm, of_height = card.height_mm;
    fault.change(card);
    if (!plain) {
      // The same picture, printed larger.
      card.dots_per_mm *= of_width / card.width_mm;
      const double higher = (card.height_mm / card.width_mm) / (of_height / of_width);
      cv::resize(card.picture, card.picture, {}, 1, higher, cv::INTER_AREA);
    }
    std::vector<CardView> seen;
    for (const drawn::CardPose& pose : drawn::DrawPoses(truth, views, random)) {
      drawn::CardScene scene;
      scene.seed = random();
      if (fault.cover_mm > 0) {
        const Eigen::Vector2d at(fault.at_corner ? card.width_mm / 2 : 10, -card.height_mm / 2);
        const Eigen::Vector2d px = drawn::TruePixel(truth, pose, at);
        const double radius = fault.cover_mm * truth.fx / pose.middle_in_camera_mm.z();
        scene.cover = [px, radius, light = fault.cover_light](cv::Mat& linear) {
          cv::circle(linear, {static_cast<int>(px.x()), static_cast<int>(px.y())},
                     static_cast<int>(radius), cv::Scalar(light), cv::FILLED);
        };
      }
      if (const auto view = See(TakePicture(truth, {{&card, pose}}, scene), plain)) {
        seen.push_back(*view);
      }
    }
    seen_views += static_cast<int>(seen.size());
    const auto made = CalibrateCamera(seen, truth.width, truth.height,
                                      plain ? CardKind::kPlain : CardKind::kPattern);
    if (!made || made->verdict == CameraVerdict::kRefused) {
      ++refused[made ? made->reason : made.error().message];
      continue;
    }
    ++taken;
    const CameraIntrinsics& found = made->adjustment.camera;
    const double off = std::abs(found.fx / truth.fx - 1);
    worst = std::max(worst, off);
    worst_normed = std::max(worst_normed, off / found.focal_rel_sd);
    beyond += off > 3 * found.focal_rel_sd ? 1 : 0;
  }
  std::printf("%-8s %-22s card found in %3.0f %% of pictures; taken %d of %d",
              plain ? "plain" : "pattern", fault.name, 100.0 * seen_views / (runs * views), taken,
              runs);
  if (taken > 0) {
    std::printf(", focal length off by at most %.2f %%, %.1f stated deviations; beyond three: %d",
                100 * worst, worst_normed, beyond);
  }
  std::printf("\n");
  for (const auto& [why, count] : refused) std::printf("    %d x %s\n", count, why.c_str());
}

}  // namespace
}  // namespace nearpoint

int main(int argc, char** argv) {
  const int runs = argc > 1 ? std::atoi(argv[1]) : 200;
  const int views = argc > 2 ? std::atoi(argv[2]) : 12;
  const std::string which = argc > 3 ? argv[3] : "both";
  const bool verbose = argc > 4;
  if (which == "wrong") {
    for (const bool plain : {false, true}) {
      for (const auto& fault : nearpoint::kFaults) nearpoint::RunFault(fault, plain, runs, views);
    }
    return 0;
  }
  if (which != "plain") nearpoint::Run("pattern card", false, runs, views, verbose);
  if (which != "pattern") nearpoint::Run("plain card", true, runs, views, verbose);
}
