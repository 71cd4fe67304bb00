// Makes eye_regions.dat: learns the window of vision/face/eye_region_detector.h from the simulated
// patient alone, then says how well it finds the eyes of other simulated patients. The same seed
// gives the same file.
#include <dlib/image_processing/scan_fhog_pyramid.h>
#include <dlib/image_transforms/image_pyramid.h>
#include <dlib/opencv.h>
#include <dlib/serialize.h>
#include <dlib/svm_threaded.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <map>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <thread>

#include "vision/face/eye_region_detector.h"
#include "vision/simulate/head_shape.h"
#include "vision/simulate/options_check.h"
#include "vision/simulate/projection.h"
#include "vision/simulate/random.h"
#include "vision/simulate/studio.h"

namespace {

using namespace nearpoint;            // NOLINT: the whole program is about these
using namespace nearpoint::simulate;  // NOLINT

using Scanner = dlib::scan_fhog_pyramid<dlib::pyramid_down<5>>;

// An odd number of cells, so that the mirrored window has the same middle.
constexpr unsigned long kCellPx = 6;
constexpr unsigned long kWindowWidthPx = 11 * kCellPx;
constexpr unsigned long kWindowHeightPx = 7 * kCellPx;
constexpr unsigned long kPyramidLevels = 8;
constexpr double kAspect = static_cast<double>(kWindowHeightPx) / kWindowWidthPx;

struct TrueEye {
  Eigen::Vector2d centre_px;
  double iris_px = 0;
};
struct Picture {
  cv::Mat grey;
  std::array<TrueEye, 2> eyes;  // image left, image right
  double distance_mm = 0;
  PatientOptions patient;
  double turn_deg = 0;
  double drift_deg = 0;
};
struct Pose {
  double nearest_mm, farthest_mm;
};

PatientOptions DrawPatient(Random& random, int width) {
  PatientOptions p;
  Appearance& a = p.appearance;
  a.skin_tone = random.Uniform();
  a.iris_tone = random.Uniform();
  a.texture_seed = random.Next() % 1000000;
  a.head_scale = random.Uniform(0.85, 1.1);
  const double pd = 62 * a.head_scale + 2.5 * random.Normal();
  a.distance_pd = Length::Millimeters(
      std::clamp(pd, std::max(51.0, 48 * a.head_scale), std::min(74.0, 72 * a.head_scale)));
  a.iris = Length::Millimeters(std::clamp(11.4 + 0.6 * random.Normal(), 10.2, 12.9));
  a.glasses = random.Uniform() < 0.35;
  p.light.level = std::exp(random.Uniform(std::log(0.05), 0));
  p.light.side = random.Uniform(-1, 1);
  p.light.noise_sd = random.Uniform(0.5, 3.5);
  p.optics.camera = PinholeCamera(width, width * 9 / 16, Angle::Degrees(random.Uniform(60, 72)));
  p.optics.aperture = Length::Millimeters(std::max(0.0, random.Uniform(-0.6, 2)));
  p.optics.focus = Length::Millimeters(random.Uniform(300, 900));
  p.target_mm = {random.Uniform(-8, 8), random.Uniform(5, 30), 0};
  p.seed = random.Next();
  return p;
}

// The middle of a lid opening. eye: kLeft or kRight of the patient.
Eigen::Vector2d OpeningPx(const PatientOptions& p, const HeadShape& shape,
                          const PatientState& state, int eye) {
  Eigen::Vector2d sum = Eigen::Vector2d::Zero();
  for (Eigen::Vector3d corner : {shape.InnerCorner(), shape.OuterCorner()}) {
    corner.x() *= SideSign(eye);
    sum += Project(p.optics.camera, state.camera_from_head * corner + state.eye_mid_mm);
  }
  return sum / 2;
}

// Pictures of one patient, at distances spread evenly on a logarithmic scale over the range.
std::vector<Picture> Photograph(std::uint64_t seed, std::uint64_t number, int poses, Pose range,
                                int width) {
  Random random(seed, number);
  const PatientOptions p = DrawPatient(random, width);
  if (auto ok = CheckOptions(p); !ok) {
    std::cerr << ok.error().message << "\n";
    return {};
  }
  Studio studio(p);
  const HeadShape shape(p.appearance);
  std::vector<Picture> out;
  for (int i = 0; i < poses; ++i) {
    const double part = (i + random.Uniform()) / poses;
    const double distance = range.nearest_mm * std::pow(range.farthest_mm / range.nearest_mm, part);
    const auto turn = [&] { return random.Uniform(-12, 12); };
    const double yaw = turn();
    const double pitch = turn();
    const double roll = turn();
    const double drift = random.Uniform() < 0.5 ? random.Uniform(0, 12) : 0;
    const bool left = random.Uniform() < 0.5;
    PatientState state = Performance::Posed(
        p, Length::Millimeters(distance), Angle::Degrees(yaw), Angle::Degrees(pitch),
        Angle::Degrees(roll), Angle::Degrees(left ? drift : 0), Angle::Degrees(left ? 0 : drift));
    const Eigen::Vector3d shift(random.Uniform(-0.06, 0.06) * distance,
                                random.Uniform(-0.15, 0.15) * distance, 0);
    state.eye_mid_mm += shift;
    for (auto& centre : state.centre_mm) centre += shift;
    state.lids_closed = random.Uniform() < 0.25 ? random.Uniform(0, 0.4) : 0;
    // The exposure settles on the first picture only: later ones are a little too light or dark, as
    // in life.
    const cv::Mat bgr =
        i == 0 ? studio.TakeStill(i, state) : studio.Take(i, state, state, state, 0.1);
    Picture picture;
    cv::cvtColor(bgr, picture.grey, cv::COLOR_BGR2GRAY);
    const FrameTruth truth = studio.Truth(i, {}, state);
    picture.eyes = {TrueEye{OpeningPx(p, shape, state, kRight), truth.right_eye.limbus_major_px},
                    TrueEye{OpeningPx(p, shape, state, kLeft), truth.left_eye.limbus_major_px}};
    picture.distance_mm = distance;
    picture.patient = p;
    picture.turn_deg = std::max({std::abs(yaw), std::abs(pitch), std::abs(roll)});
    picture.drift_deg = drift;
    out.push_back(std::move(picture));
  }
  return out;
}

std::vector<Picture> PhotographAll(std::uint64_t seed, int patients, int poses, Pose range,
                                   int width) {
  std::vector<std::vector<Picture>> each(static_cast<std::size_t>(patients));
  const auto work = [&](std::size_t first) {
    for (std::size_t n = first; n < each.size(); n += 2)
      each[n] = Photograph(seed, n, poses, range, width);
  };
  std::thread other(work, 1);
  work(0);
  other.join();
  std::vector<Picture> out;
  for (auto& pictures : each) std::move(pictures.begin(), pictures.end(), std::back_inserter(out));
  return out;
}

// What cameras and drivers add: tone curve, softness, noise, compression.
void Spoil(Random& random, cv::Mat& grey) {
  cv::Mat table(1, 256, CV_8U);
  const double gamma = std::exp(random.Uniform(-0.5, 0.5));
  for (int i = 0; i < 256; ++i)
    table.at<std::uint8_t>(i) = cv::saturate_cast<std::uint8_t>(255 * std::pow(i / 255.0, gamma));
  cv::LUT(grey, table, grey);
  // Uneven skin and light that no simulated face has, at two sizes.
  cv::Mat factor(grey.size(), CV_32F, cv::Scalar(1));
  for (const int across : {5, 24}) {
    cv::Mat coarse(across * 9 / 16 + 1, across, CV_32F);
    const double depth = random.Uniform(0, across == 5 ? 0.2 : 0.1);
    for (int row = 0; row < coarse.rows; ++row) {
      for (int col = 0; col < coarse.cols; ++col)
        coarse.at<float>(row, col) = static_cast<float>(depth * random.Normal());
    }
    cv::resize(coarse, coarse, grey.size(), 0, 0, cv::INTER_CUBIC);
    factor += coarse;
  }
  cv::multiply(grey, factor, grey, 1, CV_8U);
  const double sigma = random.Uniform(0, 1.2);
  if (sigma > 0.3) cv::GaussianBlur(grey, grey, {}, sigma);
  if (random.Uniform() < 0.3) {
    cv::Mat soft;
    cv::GaussianBlur(grey, soft, {}, 1.5);
    const double strength = random.Uniform(0, 1.5);
    cv::addWeighted(grey, 1 + strength, soft, -strength, 0, grey);
  }
  const double noise = random.Uniform(0, 4);
  for (int row = 0; row < grey.rows; ++row) {
    for (int col = 0; col < grey.cols; ++col) {
      auto& at = grey.at<std::uint8_t>(row, col);
      at = cv::saturate_cast<std::uint8_t>(at + noise * random.Normal());
    }
  }
  if (random.Uniform() < 0.5) {
    std::vector<std::uint8_t> bytes;
    cv::imencode(".jpg", grey, bytes,
                 {cv::IMWRITE_JPEG_QUALITY, static_cast<int>(random.Uniform(40, 95))});
    grey = cv::imdecode(bytes, cv::IMREAD_GRAYSCALE);
  }
}

struct TrainingSet {
  dlib::array<dlib::array2d<unsigned char>> pictures;
  std::vector<std::vector<dlib::rectangle>> eyes, unsure;
};

dlib::rectangle BoxOf(const TrueEye& eye) {
  const double width = kEyeRegionInIrises * eye.iris_px;
  const double height = kAspect * width;
  return {std::lround(eye.centre_px.x() - width / 2), std::lround(eye.centre_px.y() - height / 2),
          std::lround(eye.centre_px.x() + width / 2), std::lround(eye.centre_px.y() + height / 2)};
}

// The eye on the image's left is to be found; the one on the right is neither right nor wrong, so
// that the window does not learn the little that tells the two apart.
void Add(const cv::Mat& grey, const TrueEye& left, const TrueEye& right, TrainingSet& set) {
  dlib::array2d<unsigned char> copy;
  dlib::assign_image(copy, dlib::cv_image<unsigned char>(grey));
  const dlib::rectangle picture = dlib::get_rect(copy);
  const dlib::rectangle box = BoxOf(left);
  const double inside =
      static_cast<double>(box.intersect(picture).area()) / static_cast<double>(box.area());
  const double smallest = 0.9 * static_cast<double>(kWindowWidthPx) / kEyeRegionInIrises;
  const double largest = smallest * kLargestIrisInWidths / kSmallestIrisInWidths * 1.1;
  const bool wanted = inside > 0.55 && left.iris_px > smallest && left.iris_px < largest;
  std::vector<dlib::rectangle> eyes;
  std::vector<dlib::rectangle> unsure{BoxOf(right)};
  (wanted ? eyes : unsure).push_back(box);
  set.pictures.push_back(copy);
  set.eyes.push_back(eyes);
  set.unsure.push_back(unsure);
}

void AddWithMirror(std::uint64_t seed, std::vector<Picture> pictures, TrainingSet& set) {
  Random random(seed, 999983);
  for (Picture& p : pictures) {
    const double scale = static_cast<double>(kWindowWidthPx) /
                         (kSmallestIrisInWidths * kEyeRegionInIrises * p.grey.cols);
    // A little higher or lower than simulated, for faces of other proportions.
    const double stretch = std::exp(random.Uniform(-0.1, 0.14));
    cv::resize(p.grey, p.grey, {}, scale, scale * stretch, cv::INTER_AREA);
    for (TrueEye& eye : p.eyes) {
      eye.centre_px = {(eye.centre_px.x() + 0.5) * scale - 0.5,
                       (eye.centre_px.y() + 0.5) * scale * stretch - 0.5};
      eye.iris_px *= scale;
    }
    cv::Mat mirrored;
    cv::flip(p.grey, mirrored, 1);
    Spoil(random, p.grey);
    Spoil(random, mirrored);
    const auto flip = [&](TrueEye eye) {
      eye.centre_px.x() = p.grey.cols - 1 - eye.centre_px.x();
      return eye;
    };
    Add(p.grey, p.eyes[0], p.eyes[1], set);
    Add(mirrored, flip(p.eyes[1]), flip(p.eyes[0]), set);
  }
}

struct Count {
  int pictures = 0, both = 0, one = 0, false_pair = 0, false_single = 0;
  double centre_error = 0, size_error = 0;
};
struct Bias {
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();
  double log_size = 0;
  int n = 0;
};

void Score(const EyeRegionDetector& detector, const std::vector<Picture>& pictures) {
  std::map<std::string, Count> counts;
  double detect_ms = 0;
  std::array<Bias, 2> bias;
  int left_out = 0;
  for (const Picture& p : pictures) {
    const bool in_range = std::all_of(p.eyes.begin(), p.eyes.end(), [&](const TrueEye& eye) {
      const double share = eye.iris_px / p.grey.cols;
      return eye.centre_px.x() >= 0 && eye.centre_px.y() >= 0 && eye.centre_px.x() < p.grey.cols &&
             eye.centre_px.y() < p.grey.rows && share > 0.9 * kSmallestIrisInWidths &&
             share < kLargestIrisInWidths;
    });
    if (!in_range) {
      ++left_out;
      continue;
    }
    std::vector<std::string> groups{"all"};
    char bin[32];
    const int low = p.distance_mm < 60 ? 45 : static_cast<int>(p.distance_mm / 20) * 20;
    std::snprintf(bin, sizeof bin, "distance %03d mm up", low);
    groups.emplace_back(bin);
    const Appearance& a = p.patient.appearance;
    groups.emplace_back(a.skin_tone < 0.33   ? "skin light"
                        : a.skin_tone < 0.67 ? "skin middle"
                                             : "skin dark");
    groups.emplace_back(a.iris_tone < 0.5 ? "iris pale" : "iris brown");
    groups.emplace_back(a.glasses ? "glasses" : "no glasses");
    groups.emplace_back(p.patient.light.level < 0.2 ? "light dim" : "light good");
    groups.emplace_back(p.patient.optics.aperture.mm() > 1 ? "defocus over 1 mm"
                                                           : "defocus up to 1 mm");
    groups.emplace_back(p.turn_deg > 8 ? "head turned over 8 deg" : "head turned up to 8 deg");
    groups.emplace_back(p.drift_deg > 0 ? "one eye drifts" : "both on target");
    const auto before = std::chrono::steady_clock::now();
    const auto found = detector.Detect(p.grey);
    detect_ms +=
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - before)
            .count();
    int hits = 0;
    double centre_error = 0;
    double size_error = 0;
    for (std::size_t side = 0; side < 2; ++side) {
      const TrueEye& eye = p.eyes[side];
      for (const EyeRegion& region : found) {
        const double away = (region.centre_px - eye.centre_px).norm() / eye.iris_px;
        if (away > 0.35) continue;
        ++hits;
        bias[side].centre += (region.centre_px - eye.centre_px) / eye.iris_px;
        bias[side].log_size += std::log(region.iris_diameter_px / eye.iris_px);
        ++bias[side].n;
        centre_error += away / 2;
        size_error += std::abs(std::log(region.iris_diameter_px / eye.iris_px)) / 2;
        break;
      }
    }
    for (const std::string& group : groups) {
      Count& c = counts[group];
      ++c.pictures;
      if (hits == 2) {
        ++c.both;
        c.centre_error += centre_error;
        c.size_error += size_error;
      } else if (found.size() == 2) {
        ++c.false_pair;
      } else if (found.size() == 1 && hits == 0) {
        ++c.false_single;
      } else if (hits == 1) {
        ++c.one;
      }
    }
  }
  std::printf("%d pictures left out: an opening's middle is outside or an iris out of range\n",
              left_out);
  std::printf("%-26s %8s %6s %9s %10s %11s %14s %10s\n", "held out", "pictures", "both",
              "one alone", "false pair", "false alone", "centre, irises", "size");
  for (const auto& [group, c] : counts) {
    const double n = c.pictures / 100.0;
    const double found = std::max(1, c.both);
    std::printf("%-26s %8d %5.1f%% %8.1f%% %9.1f%% %10.1f%% %14.3f %9.1f%%\n", group.c_str(),
                c.pictures, c.both / n, c.one / n, c.false_pair / n, c.false_single / n,
                c.centre_error / found, 100 * c.size_error / found);
  }
  for (std::size_t side = 0; side < 2; ++side) {
    const Bias& b = bias[side];
    const double n = std::max(1, b.n);
    std::printf("eye on image %s: mean error of the centre %.3f, %.3f irises, of the size %.1f%%\n",
                side == 0 ? "left" : "right", b.centre.x() / n, b.centre.y() / n,
                100 * b.log_size / n);
  }
  if (left_out < static_cast<int>(pictures.size())) {
    std::printf("%.2f ms a call at %d x %d\n",
                detect_ms / (static_cast<double>(pictures.size()) - left_out),
                pictures.front().grey.cols, pictures.front().grey.rows);
  }
}

double SecondsSince(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

}  // namespace

int main(int argc, char** argv) {
  std::string file = "eye_regions.dat";
  int patients = 90;
  int poses = 5;
  int held_out = 100;
  std::uint64_t seed = 1;
  double c = 3;
  double epsilon = 0.02;
  bool score_only = false;
  CLI::App app("Learns the eye region detector from the simulated patient.");
  app.add_option("out", file, "file to write");
  app.add_option("--patients", patients,
                 "to learn from, five pictures and their mirror images each");
  app.add_option("--held-out", held_out, "to score on, four pictures each");
  app.add_option("--seed", seed, "of patients and poses");
  app.add_option("--c", c, "weight of mistakes against a wide margin");
  app.add_option("--epsilon", epsilon, "when to stop");
  app.add_flag("--score-only", score_only, "only score the file as it is");
  CLI11_PARSE(app, argc, argv);

  try {
    if (!score_only) {
      const auto start = std::chrono::steady_clock::now();
      TrainingSet set;
      AddWithMirror(seed, PhotographAll(seed, patients, poses, {45, 178}, 400), set);
      // Faces too far away for this window: nothing in them is an eye region.
      AddWithMirror(seed + 1,
                    PhotographAll(seed + 500009, std::max(1, patients / 8), 1, {320, 700}, 400),
                    set);
      std::printf("%zu pictures drawn in %.0f s\n", set.pictures.size(), SecondsSince(start));
      const auto drawn = std::chrono::steady_clock::now();
      Scanner scanner;
      scanner.set_cell_size(kCellPx);
      scanner.set_detection_window_size(kWindowWidthPx, kWindowHeightPx);
      scanner.set_max_pyramid_levels(kPyramidLevels);
      scanner.set_min_pyramid_layer_size(36, 36);
      dlib::structural_object_detection_trainer<Scanner> trainer(scanner);
      trainer.set_num_threads(2);
      trainer.set_c(c);
      trainer.set_epsilon(epsilon);
      const auto detector =
          trainer.train(set.pictures, set.eyes, set.unsure, dlib::test_box_overlap(0.3, 0.75));
      dlib::serialize(file) << detector;
      std::printf("window of %lu x %lu cells learned in %.0f s\n", scanner.get_fhog_window_width(),
                  scanner.get_fhog_window_height(), SecondsSince(drawn));
    }
    const auto detector = EyeRegionDetector::Load(file);
    if (!detector) {
      std::cerr << detector.error().message << "\n";
      return 1;
    }
    Score(*detector, PhotographAll(seed + 700001, held_out, 4, {48, 170}, 640));
  } catch (const std::exception& error) {
    std::cerr << "nearpoint_train_eye_regions: " << error.what() << "\n";
    return 1;
  }
  return 0;
}
